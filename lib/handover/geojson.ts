import { centrelineProjection, type Grid } from "../survey/bank/projection.js";
import type { Centreline } from "../survey/survey.js";
import type { Layer, LayerFeature } from "./layers/layer.js";

/**
 * A layer as a GeoJSON file: longitude and latitude on WGS 84 to 1e-7 degrees (about 1 cm), one
 * feature a line. A feature without a place has no geometry. Source: RFC 7946.
 */
export function geoJson(layer: Layer, centreline: Centreline): string {
  const projection = centrelineProjection(centreline);
  const position = (place: Grid) => {
    const { longitude, latitude } = projection.toLonLat(place);
    return [longitude, latitude].map((degrees) => Math.round(1e7 * degrees) / 1e7);
  };
  const lines = layer.features.map((feature) => {
    const positions = feature.places.map(position);
    const geometry = { type: layer.geometry, coordinates: coordinatesOf(layer, positions) };
    return JSON.stringify({
      type: "Feature",
      geometry: positions.length === 0 ? null : geometry,
      properties: propertiesOf(layer, feature),
    });
  });
  const features = lines.length === 0 ? "[]" : `[\n${lines.join(",\n")}\n]`;
  return `{"type":"FeatureCollection","features":${features}}\n`;
}

function coordinatesOf({ geometry }: Layer, positions: readonly (readonly number[])[]) {
  return geometry === "Point" ? positions[0] : positions;
}

function propertiesOf({ fields }: Layer, { values }: LayerFeature) {
  return Object.fromEntries(fields.map(({ name }, i) => [name, values[i] ?? null]));
}
