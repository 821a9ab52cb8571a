import type { NumberForm } from "../values/number-form.js";
import type { Shape } from "../values/shape.js";
import type { HeaderWords } from "./header-words.js";
import type { Meaning } from "./known-names.js";

/** A column of a file: its name, what its cells look like, and what it is. */
export interface Column extends HeaderWords {
  readonly index: number;
  /** As it stands in the file, numbered where it stands there twice. */
  readonly header: string;
  readonly shape: Shape;
  /** Of the sampled rows, in their order. */
  readonly cells: readonly string[];
  readonly numbers: NumberForm;
  readonly meaning: Meaning;
}

/** A column before its meaning and the form of its numbers are known. */
export type OpenColumn = Omit<Column, "meaning" | "numbers">;

/** The columns of one meaning. */
export function meant(columns: readonly Column[], meaning: Meaning): readonly Column[] {
  return columns.filter((column) => column.meaning === meaning);
}
