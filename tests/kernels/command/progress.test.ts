import { expect, it } from "vitest";
import { progressOn } from "../../../kernels/command/progress.js";
import { code, notebook, text } from "../support/notebooks.js";

const notes = notebook(
  text("t", "# How long it takes, told at some length for a heading"),
  code("a", "1"),
);
const cell = notes.cells.find(({ id }) => id === "a")! as never;
const at = { cell, number: 3, of: 9 };
const call = { what: "estimateDepthSlices", done: 30, total: 120 };

function told(isTTY: boolean, columns = 80) {
  const written: string[] = [];
  const write = (words: string) => written.push(words) > 0;
  const tell = progressOn({ write, isTTY, columns } as never, notes);
  tell({ ...at, elapsed_s: null, call: null });
  tell({ ...at, elapsed_s: null, call });
  tell({ ...at, elapsed_s: 12.34, call: null });
  return written;
}

it("tells on a terminal how far a long call is, within one line, and takes it back", () => {
  const lines = told(true);
  const back = "\r\x1b[K";
  expect(lines.every((line) => line.startsWith(back))).toBe(true);
  const [first = "", second = "", last = ""] = lines.map((line) => line.slice(back.length));
  expect(first).toMatch(/^cell 3 of 9 {2}How long it takes, told at some length/);
  expect(second).toMatch(/^cell 3 of 9 .* {2}████░{12} 25 % estimateDepthSlices$/);
  expect(second.length).toBeLessThan(80);
  expect(last).toMatch(/^cell 3 of 9 {2}How long .* {2}12\.3 s\n$/);
});

it("tells elsewhere only what is done", () => {
  expect(told(false)).toEqual([
    "cell 3 of 9  How long it takes, told at some length for a heading  12.3 s\n",
  ]);
});
