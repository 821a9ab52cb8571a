import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { repository } from "../banquette.js";

/**
 * The text of the shipped notebook with the alternatives of a part of its decisions, one in `of` from
 * the k-th on: they are most of an appendix's time.
 */
export async function fewerAlternatives(k: number, of: number): Promise<string> {
  const shipped = await readFile(join(repository, "notebooks/appendix.ipynb"), "utf8");
  const part = `decisions: decisions.filter((_, i) => i % ${of} === ${k % of})`;
  const text = shipped.replace("tryAlternatives(work)", `tryAlternatives({ ...work, ${part} })`);
  if (text === shipped) throw new Error("the notebook tries no alternatives");
  return text;
}
