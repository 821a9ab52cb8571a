import { slimPath } from "./slim-path.js";

/**
 * A drawing of Vega without what shows nothing: names and roles of its parts (a page names the
 * drawing as a whole), what answers to a pointer, empty paths, and values that hold anyway; the
 * letters' face stands once; dots are circles; places are rounded to a hundredth of a pixel, those
 * along a curve to a tenth.
 */
export function slimSvg(svg: string): string {
  const [, face = ""] = /font-family="([^"]*)"/.exec(svg) ?? [];
  const slim = svg
    .replace(/ (?:class|role|aria-[a-z]+|pointer-events)="[^"]*"/g, "")
    .replace(/ (?:opacity="1"|fill-opacity="1"|stroke-opacity="1")/g, "")
    .replace(/<path d="" display="none"\s*(?:\/>|><\/path>)/g, "")
    .replace(/<(path|line|rect|circle) ([^>]*?)\s*(?:\/>|><\/\1>)/g, shapeText)
    .replace(/ transform="translate\(0,0\)"/g, "")
    .replace(/<g><\/g>/g, "")
    .replace(/ (?:transform|[xy][12]?|width|height)="[^"]*"/g, (place) =>
      place.replace(LONG_NUMBER, (number) => String(Number(Number(number).toFixed(2)))),
    );
  if (face === "") return slim;
  return slim
    .replaceAll(` font-family="${face}"`, "")
    .replace("<svg", `<svg font-family="${face}"`);
}

const LONG_NUMBER = /-?\d+\.\d{3,}(?:e-?\d+)?/g;

/**
 * A shape without the width of a stroke that it does not have, and without values that hold anyway;
 * nothing for a path with neither fill nor stroke, which Vega draws within a group without either.
 */
function shapeText(_: string, name: string, attributes: string): string {
  const isStroked = /(?:^| )stroke="(?!none)/.test(attributes);
  const kept = attributes
    .replace(isStroked ? / ?\bstroke-width="1"/ : / ?\bstroke-[a-z]+="[^"]*"/g, "")
    .replace(/ ?\b[xy][12]="0"/g, "")
    .trim();
  if (name === "path") return /^d="[^"]*"$/.test(kept) ? "" : pathText(kept);
  return (name === "line" && lineText(kept)) || `<${name} ${kept}/>`;
}

const LINE = /^transform="translate\(([^,()]+),([^()]+)\)"(?: x2="([^"]+)")?(?: y2="([^"]+)")?/;

/** A line from a place that it is moved to, as a path; "" for one that is turned. */
function lineText(attributes: string): string {
  const line = LINE.exec(attributes);
  if (line === null) return "";
  const [all, x = "", y = "", dx = "0", dy = "0"] = line;
  const to =
    dx === "0" ? `v${round(dy)}` : dy === "0" ? `h${round(dx)}` : `l${round(dx)},${round(dy)}`;
  return `<path d="M${round(x)},${round(y)}${to}"${attributes.slice(all.length)}/>`;
}

const round = (text: string) => String(Number(Number(text).toFixed(2)));

const DOT =
  /^transform="translate\(([^,]+),([^)]+)\)" d="M([\d.]+),0A\3,\3,0,1,1,-\3,0A\3,\3,0,1,1,\3,0(?:Z)?"/;

function pathText(attributes: string): string {
  const dot = DOT.exec(attributes);
  if (dot !== null) {
    const [all, x = "", y = "", r = ""] = dot;
    const place = `cx="${round(x)}" cy="${round(y)}" r="${round(r)}"`;
    return `<circle ${place}${attributes.slice(all.length)}/>`;
  }
  const slim = attributes.replace(/\bd="([^"]*)"/, (_, d: string) => `d="${slimPath(d)}"`);
  return `<path ${slim}/>`;
}
