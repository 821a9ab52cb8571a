const joiner = "\u2060";
const noBreakSpace = "\u00a0";
const breakHere = "\u200b";

/** Values with their intervals and units, dates, ohm-m. */
const holding =
  /\d(?:–|-)(?=[\d−+])|\d (?=\(?[<>]?[\d−]+[.,\d]*(?:–|\)| to ))|ohm-(?=m)|\d (?=(?:ohm-m|m|km|ms?S\/m|k?Hz|ppm|%|°C)(?![\p{L}\d]))/gu;

/**
 * Text that does not break where a reader would stumble (within a value and its interval, a date, a
 * unit) and may break where else it could not: in long names of files and options, after what
 * divides their parts.
 */
export function heldTogether(text: string): string {
  return text.replace(/\S{28,}/g, breakable).replace(holding, held);
}

function held(found: string): string {
  return found.endsWith(" ") ? found.slice(0, -1) + noBreakSpace : found + joiner;
}

function breakable(word: string): string {
  return word.replace(/[._/=:,](?=[^\s\d])/g, (letter) => letter + breakHere);
}

/** Pieces of a text that lines are never broken within; a hyphen before a digit holds. */
export function piecesOf(text: string): readonly string[] {
  return text.split(/[ \n\u200b]|(?<=[–-])(?![\u2060\d])/).filter((piece) => piece !== "");
}
