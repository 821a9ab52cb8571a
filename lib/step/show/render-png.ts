import { Resvg } from "@resvg/resvg-js";

/**
 * A drawing as a PNG at twice its size, base64: for front ends and converters that show no SVG.
 *
 * @param svg - a standalone SVG, such as `renderSvg` gives.
 * @returns base64 without line breaks. Letters are drawn with the machine's own fonts, so the bytes
 *   are the same on one machine and may differ on another.
 * @throws Error where the text is no SVG.
 */
export function renderPng(svg: string): string {
  const drawing = new Resvg(svg, {
    background: "#ffffff",
    fitTo: { mode: "zoom", value: 2 },
    font: { loadSystemFonts: true, defaultFontFamily: "Arial" },
  });
  return drawing.render().asPng().toString("base64");
}
