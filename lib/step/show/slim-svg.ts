/**
 * A drawing of Vega without what shows nothing: names and roles of its parts (a page names the
 * drawing as a whole), what answers to a pointer, and values that hold anyway; the letters' face
 * stands once; places are rounded to a hundredth of a pixel, those along a curve to a tenth.
 */
export function slimSvg(svg: string): string {
  const [, face = ""] = /font-family="([^"]*)"/.exec(svg) ?? [];
  const slim = svg
    .replace(/ (?:class|role|aria-[a-z]+|pointer-events)="[^"]*"/g, "")
    .replace(/ (?:opacity="1"|fill-opacity="1"|stroke-opacity="1")/g, "")
    .replace(PLACES, (place) => place.replace(LONG_NUMBER, roundedTo(place.includes("L") ? 1 : 2)));
  if (face === "") return slim;
  return slim
    .replaceAll(` font-family="${face}"`, "")
    .replace("<svg", `<svg font-family="${face}"`);
}

const PLACES = / (?:d|transform|[xy][12]?|width|height)="[^"]*"/g;
const LONG_NUMBER = /-?\d+\.\d{2,}(?:e-?\d+)?/g;

const roundedTo = (digits: number) => (number: string) =>
  String(Number(Number(number).toFixed(digits)));
