import { heldTogether } from "../model/holding.js";
import type { Draws } from "./letters.js";

/** Text as it is set on paper. */
export type PaperText = (text: string) => string;

/**
 * Text that holds together where it should. A letter that the font does not draw stands as its code
 * point in brackets.
 */
export function paperText(draws: Draws): PaperText {
  return (text) => heldTogether(drawn(text, draws));
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
