import { type NumberForm, plainNumber } from "./number-form.js";

const NUMBER = String.raw`\d+(?:[.,]\d+)?`;
const DEGREES = new RegExp(
  String.raw`^([NSEW])?\s*([+-])?\s*(${NUMBER})\s*(?:[°ºd:\s]\s*(?:(${NUMBER})\s*(?:['′’m:\s]\s*(?:(${NUMBER})\s*(?:"|″|''|s)?)?)?)?)?\s*([NSEW])?$`,
  "i",
);

/** True for degrees that are more than a plain number: with minutes, a sign or a hemisphere. */
export function isDegrees(cell: string): boolean {
  const match = DEGREES.exec(cell);
  if (match === null) return false;
  return (
    /[°º'′]/.test(cell) || match[1] !== undefined || match[6] !== undefined || hasMinutes(match)
  );
}

/** `52 30.5`, but not `1 234` in groups of three. */
function hasMinutes([, , , degrees = "", minutes = ""]: RegExpExecArray): boolean {
  return minutes !== "" && degrees.length <= 3 && /^\d{1,2}([.,]|$)/.test(minutes);
}

/** Degrees with decimals, west and south below zero; NaN for what is none. */
export function readDegrees(cell: string, form: NumberForm): number {
  const match = DEGREES.exec(cell);
  if (match === null) return Number.NaN;
  const [, before, sign, degrees, minutes = "0", seconds = "0", after] = match;
  if (before !== undefined && after !== undefined) return Number.NaN;
  const [d, m, s] = [degrees, minutes, seconds].map((part) => decimal(part ?? "", form));
  if (!(m! < 60 && s! < 60)) return Number.NaN;
  const isNegative = (sign === "-") !== /[SW]/i.test(before ?? after ?? "");
  if (sign !== undefined && (before ?? after) !== undefined) return Number.NaN;
  const size = d! + m! / 60 + s! / 3600;
  return isNegative ? -size : size;
}

/** Degrees with decimals of `5230.123`, which is 52 degrees and 30.123 minutes. */
export function packedDegrees(value: number): number {
  const degrees = Math.trunc(value / 100);
  const minutes = Math.abs(value - 100 * degrees);
  return minutes < 60 ? Math.sign(value) * (Math.abs(degrees) + minutes / 60) : Number.NaN;
}

function decimal(text: string, { decimal: own }: NumberForm): number {
  const plain = plainNumber(text, { decimal: own, group: null });
  return plain === null ? Number(text.replace(",", ".")) : Number(plain);
}
