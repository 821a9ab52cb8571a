import { cpSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { demoFolder } from "../chain/demo.js";

/** Longitudes at 1000 and 1960 m: the lens, a change beside it, three boreholes, one electrode line. */
const [WEST, EAST] = [2.9033, 2.917];

/**
 * A copy of the demo in which one of its four electrode lines was laid, in a folder to be removed:
 * an inversion is the longest part of the demo's chain, and the demo's own appendix makes all four.
 */
export function oneLineDemo(): string {
  const folder = mkdtempSync(join(tmpdir(), "banquette-one-line-"));
  cpSync(demoFolder, folder, { recursive: true });
  for (const name of ["resistivity-readings.csv", "resistivity-electrodes.csv"]) {
    keep(folder, name, ([line]) => line === "R2");
  }
  return folder;
}

/** The same where 960 m of the bank were walked, twice as in the demo. */
export function shortDemo(): string {
  const folder = oneLineDemo();
  for (const name of readdirSync(demoFolder).filter((one) => one.startsWith("readings-"))) {
    keep(folder, name, ([, longitude]) => Number(longitude) > WEST && Number(longitude) < EAST);
  }
  return folder;
}

/** Leaves those rows of a file, and what ends it. */
function keep(folder: string, name: string, isKept: (fields: readonly string[]) => boolean): void {
  const [header = "", ...rows] = readFileSync(join(demoFolder, name), "utf8").split("\n");
  const kept = rows.filter((row) => row === "" || isKept(row.split(",")));
  writeFileSync(join(folder, name), [header, ...kept].join("\n"));
}
