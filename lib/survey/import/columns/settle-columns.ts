import { channelParts, isChannel } from "../channels/header-channel.js";
import type { Enquiry } from "../enquiry.js";
import type { Layout } from "../layout/recognise-layout.js";
import { type NumberForm, plainNumber } from "../values/number-form.js";
import { commonShape, type Shape } from "../values/shape.js";
import type { Column, OpenColumn } from "./column.js";
import { headerWords } from "./header-words.js";
import { MEANINGS, type Meaning, meaningOf } from "./known-names.js";
import { settleNumbers } from "./settle-numbers.js";

/** What a column seems to be, and why. */
interface Guess {
  readonly meaning: Meaning;
  readonly why: string;
  readonly isSure: boolean;
}

/** The columns of a table of readings or base checks, each with its meaning. */
export function settleColumns(
  file: string,
  { layout, rows }: { readonly layout: Layout; readonly rows: readonly (readonly string[])[] },
  enquiry: Enquiry,
): readonly Column[] {
  const open = openColumns(layout, rows);
  const formOf = settleNumbers(file, open, enquiry);
  return open.map((column): Column => {
    const numbers = formOf(column);
    const guess = guessOf({ ...column, numbers });
    const meaning = enquiry.settle({
      file,
      name: `column ${column.header}`,
      ask: `What is the column "${column.header}"${exampleOf(column.cells)}?`,
      guess: guess.meaning,
      why: guess.why,
      isSure: guess.isSure,
      choices: MEANINGS,
    }) as Meaning;
    return { ...column, numbers, meaning };
  });
}

export function openColumns(
  layout: Layout,
  rows: readonly (readonly string[])[],
): readonly OpenColumn[] {
  return layout.header.map((name, index) => {
    const cells = rows.map((row) => row[index] ?? "");
    const before = layout.header.slice(0, index).filter((other) => other === name).length;
    const header = before === 0 ? name : `${name} (${before + 1})`;
    const { shape } = commonShape(cells);
    return { index, header, shape, cells, ...headerWords(name, layout.units[index]) };
  });
}

function exampleOf(cells: readonly string[]): string {
  const filled = [...new Set(cells.filter((cell) => cell !== ""))].slice(0, 3);
  return filled.length === 0 ? "" : `, with cells such as ${filled.join(", ")}`;
}

const BY_SHAPE: Partial<Record<Shape, Meaning>> = { datetime: "time", date: "date", clock: "time" };

function guessOf(column: OpenColumn & { readonly numbers: NumberForm }): Guess {
  const { shape, words, cells } = column;
  if (shape === "blank") return sure("leave out", "it holds nothing");
  const shaped = BY_SHAPE[shape];
  if (shaped !== undefined) return sure(shaped, "by its cells");
  const named = meaningOf(words) ?? meaningOf(column.all);
  if (shape === "word") return wordGuess(cells, named);
  if (named === "date" && !isPackedDate(cells)) return sure("time", "by its name and cells");
  const parts = channelParts(column.all, column.unit);
  if (isChannel(parts)) return sure("channel", "by its name");
  if (named !== null) return sure(named, "by its name");
  if (parts.kind !== undefined) return unsure("channel", "its name may be that of a channel");
  return coordinateGuess(column) ?? unsure("leave out", "neither its name nor its numbers tell");
}

const sure = (meaning: Meaning, why: string): Guess => ({ meaning, why, isSure: true });
const unsure = (meaning: Meaning, why: string): Guess => ({ meaning, why, isSure: false });

const isPackedDate = (cells: readonly string[]) =>
  cells.every((cell) => cell === "" || /^(\d{8}|\d{6})$/.test(cell));

function wordGuess(cells: readonly string[], named: Meaning | null): Guess {
  const filled = cells.filter((cell) => cell !== "");
  if (filled.every((cell) => /^[NS]$/i.test(cell))) {
    return sure("hemisphere of latitude", "all cells are N or S");
  }
  if (filled.every((cell) => /^[EW]$/i.test(cell))) {
    return sure("hemisphere of longitude", "all cells are E or W");
  }
  if (named === "line" || named === "spot" || named === "leave out")
    return sure(named, "by its name");
  return unsure("leave out", "words, and its name does not tell what of");
}

/** `X` and `Y`, which some write the other way round. */
function coordinateGuess({
  words,
  cells,
  numbers,
}: Pick<Column, "words" | "cells" | "numbers">): Guess | null {
  const axis = /^(x|y|e|n)( (coord|coordinate|koordinate|wert|pos|position|m))?$/.exec(words)?.[1];
  if (axis === undefined) return null;
  const sizes = cells.map((cell) => Math.abs(Number(plainNumber(cell, numbers) ?? Number.NaN)));
  const most = sizes.reduce((max, size) => (size > max ? size : max), 0);
  const isEast = axis === "x" || axis === "e";
  if (most <= 180) return unsure(isEast ? "longitude" : "latitude", "numbers of up to 180");
  return unsure(isEast ? "easting" : "northing", `numbers of up to ${Math.round(most)}`);
}
