import type { Layer, LayerStyle } from "../layers/layer.js";

/**
 * A layer's style as a styled layer descriptor: one rule, or one a value of a field. Source: OGC
 * 05-078r4 (SLD 1.1.0) and OGC 05-077r4 (Symbology Encoding 1.1.0).
 */
export function styleSld({ name, title, geometry, style }: Layer): string {
  const rules = style.rules.map(({ value, colour }) => {
    const filter = style.by === undefined ? "" : filterText(style.by, value);
    const symbol = geometry === "Point" ? pointText(colour, style) : lineText(colour, style);
    return `<se:Rule><se:Name>${escaped(value)}</se:Name>${filter}${symbol}</se:Rule>`;
  });
  return (
    '<?xml version="1.0" encoding="UTF-8"?>\n' +
    '<StyledLayerDescriptor version="1.1.0" xmlns="http://www.opengis.net/sld" ' +
    'xmlns:se="http://www.opengis.net/se" xmlns:ogc="http://www.opengis.net/ogc">' +
    `<NamedLayer><se:Name>${name}</se:Name><UserStyle><se:Name>${escaped(title)}</se:Name>` +
    `<se:FeatureTypeStyle>${rules.join("")}</se:FeatureTypeStyle></UserStyle></NamedLayer>` +
    "</StyledLayerDescriptor>\n"
  );
}

function filterText(by: string, value: string): string {
  return (
    `<ogc:Filter><ogc:PropertyIsEqualTo><ogc:PropertyName>${escaped(by)}</ogc:PropertyName>` +
    `<ogc:Literal>${escaped(value)}</ogc:Literal></ogc:PropertyIsEqualTo></ogc:Filter>`
  );
}

function pointText(colour: string, { size_px }: LayerStyle): string {
  return (
    "<se:PointSymbolizer><se:Graphic><se:Mark><se:WellKnownName>circle</se:WellKnownName>" +
    `<se:Fill><se:SvgParameter name="fill">${colour}</se:SvgParameter></se:Fill></se:Mark>` +
    `<se:Size>${size_px}</se:Size></se:Graphic></se:PointSymbolizer>`
  );
}

function lineText(colour: string, { size_px }: LayerStyle): string {
  return (
    `<se:LineSymbolizer><se:Stroke><se:SvgParameter name="stroke">${colour}</se:SvgParameter>` +
    `<se:SvgParameter name="stroke-width">${size_px}</se:SvgParameter></se:Stroke>` +
    "</se:LineSymbolizer>"
  );
}

function escaped(text: string): string {
  return text.replace(/[&<>"]/g, (letter) => `&#${letter.charCodeAt(0)};`);
}
