import type { Draws } from "./letters.js";

const joiner = "\u2060";
const noBreakSpace = "\u00a0";
const breakHere = "\u200b";

/** Text as it is set on paper. */
export type PaperText = (text: string) => string;

/**
 * Text that does not break where a reader would stumble (within a value and its interval, a date, a
 * unit) and may break where else it could not (long names of files and options). A letter that the
 * font does not draw stands as its code point in brackets.
 */
export function paperText(draws: Draws): PaperText {
  return (text) =>
    drawn(text, draws)
      .replace(/\S{28,}/g, breakable)
      .replace(holding, held);
}

/** Values with their intervals and units, dates, ohm-m. */
const holding =
  /\d(?:–|-)(?=[\d−+])|\d (?=\(?[<>]?[\d−]+[.,\d]*(?:–|\)| to ))|ohm-(?=m)|\d (?=(?:ohm-m|m|km|ms?S\/m|k?Hz|ppm|%|°C)(?![\p{L}\d]))/gu;

function held(found: string): string {
  return found.endsWith(" ") ? found.slice(0, -1) + noBreakSpace : found + joiner;
}

function breakable(word: string): string {
  return word.replace(/[._/=:,](?=[^\s\d])/g, (letter) => letter + breakHere);
}

function drawn(text: string, draws: Draws): string {
  let all = "";
  for (const letter of text) {
    const code = letter.codePointAt(0) ?? 0;
    if (code === 9 || code === 10 || code === 13 || draws(code)) all += letter;
    else if (code >= 32) all += `[U+${code.toString(16).toUpperCase().padStart(4, "0")}]`;
  }
  return all;
}

/** Pieces of a text that lines are never broken within; a hyphen before a digit holds. */
export function piecesOf(text: string): readonly string[] {
  return text.split(/[ \n\u200b]|(?<=[–-])(?![\u2060\d])/).filter((piece) => piece !== "");
}
