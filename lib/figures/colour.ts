import { itemAt } from "../numerics/arrays.js";

/** A colour in the OKLab space (Ottosson 2020): lightness 0 to 1, and two opponent axes. */
type Oklab = readonly [number, number, number];

/** The colour at `position` (0 to 1) of evenly spaced stops, as "#rrggbb". */
export function rampColour(stops: readonly string[], position: number): string {
  const place = Math.min(Math.max(position, 0), 1) * (stops.length - 1);
  const lower = Math.min(Math.floor(place), stops.length - 2);
  return mixed(itemAt(stops, lower), itemAt(stops, lower + 1), place - lower);
}

/** `share` (0 to 1) of the way from one colour to another, through OKLab. */
export function mixed(from: string, to: string, share: number): string {
  const [a, b] = [oklab(from), oklab(to)];
  const between = (i: 0 | 1 | 2) => a[i] + (b[i] - a[i]) * share;
  return hex([between(0), between(1), between(2)]);
}

/** Lightness of a colour, 0 black to 1 white. */
export function lightness(colour: string): number {
  return oklab(colour)[0];
}

/** OKLab of "#rrggbb". */
export function oklab(colour: string): Oklab {
  const part = (at: number) => linear(Number.parseInt(colour.slice(at, at + 2), 16));
  const [r, g, b] = [part(1), part(3), part(5)];
  const l = Math.cbrt(0.4122214708 * r + 0.5363325363 * g + 0.0514459929 * b);
  const m = Math.cbrt(0.2119034982 * r + 0.6806995451 * g + 0.1073969566 * b);
  const s = Math.cbrt(0.0883024619 * r + 0.2817188376 * g + 0.6299787005 * b);
  return [
    0.2104542553 * l + 0.793617785 * m - 0.0040720468 * s,
    1.9779984951 * l - 2.428592205 * m + 0.4505937099 * s,
    0.0259040371 * l + 0.7827717662 * m - 0.808675766 * s,
  ];
}

function hex([lightnessOf, a, b]: Oklab): string {
  const l = (lightnessOf + 0.3963377774 * a + 0.2158037573 * b) ** 3;
  const m = (lightnessOf - 0.1055613458 * a - 0.0638541728 * b) ** 3;
  const s = (lightnessOf - 0.0894841775 * a - 1.291485548 * b) ** 3;
  const rgb = [
    4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s,
    -1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s,
    -0.0041960863 * l - 0.7034186147 * m + 1.707614701 * s,
  ];
  return `#${rgb.map((part) => byte(part).toString(16).padStart(2, "0")).join("")}`;
}

function linear(part: number): number {
  const share = part / 255;
  return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
}

function byte(part: number): number {
  const share = Math.min(Math.max(part, 0), 1);
  const curved = share <= 0.0031308 ? share * 12.92 : 1.055 * share ** (1 / 2.4) - 0.055;
  return Math.round(curved * 255);
}
