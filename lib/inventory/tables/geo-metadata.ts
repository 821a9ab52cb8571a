/** Longitude and latitude on WGS 84 as PROJJSON. Source: OGC:CRS84; PROJJSON schema 0.7. */
const CRS84 = {
  $schema: "https://proj.org/schemas/v0.7/projjson.schema.json",
  type: "GeographicCRS",
  name: "WGS 84 (CRS84)",
  datum: {
    type: "GeodeticReferenceFrame",
    name: "World Geodetic System 1984",
    ellipsoid: {
      name: "WGS 84",
      semi_major_axis: 6378137,
      inverse_flattening: 298.257223563,
    },
  },
  coordinate_system: {
    subtype: "ellipsoidal",
    axis: [
      {
        name: "Geodetic longitude",
        abbreviation: "Lon",
        direction: "east",
        unit: "degree",
      },
      {
        name: "Geodetic latitude",
        abbreviation: "Lat",
        direction: "north",
        unit: "degree",
      },
    ],
  },
  id: { authority: "OGC", code: "CRS84" },
} as const;

/** The file metadata `geo` of a GeoParquet file. Source: GeoParquet 1.1.0. */
export function geoMetadata(geometry: "Point" | "LineString"): string {
  return JSON.stringify({
    version: "1.1.0",
    primary_column: "geometry",
    columns: {
      geometry: { encoding: "WKB", geometry_types: [geometry], crs: CRS84, edges: "planar" },
    },
  });
}
