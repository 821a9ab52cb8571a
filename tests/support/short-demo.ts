import { cpSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { demoFolder } from "../chain/demo.js";

/**
 * A copy of the demo in which one of its four electrode lines was laid, in a folder to be removed:
 * an inversion is the longest part of the demo's chain, and the demo's own appendix makes all four.
 */
export function oneLineDemo(): string {
  const folder = mkdtempSync(join(tmpdir(), "banquette-one-line-"));
  cpSync(demoFolder, folder, { recursive: true });
  for (const name of ["resistivity-readings.csv", "resistivity-electrodes.csv"]) {
    const [header = "", ...rows] = readFileSync(join(demoFolder, name), "utf8").split("\n");
    const kept = rows.filter((row) => row === "" || row.startsWith("R2,"));
    writeFileSync(join(folder, name), [header, ...kept].join("\n"));
  }
  return folder;
}
