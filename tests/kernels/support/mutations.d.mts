import type { Random } from "../../../lib/numerics/random.js";

/** A copy of a JSON value with one node changed, taken away, doubled or buried. */
export function mutatedJson(random: Random, value: unknown): unknown;
/** A text with a piece cut out and another put in, or with lines moved about. */
export function mutatedText(random: Random, text: string): string;
