import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { madeInventory } from "../../tests/inventory/made/judge-inventory.js";
import { writeMade } from "../../tests/inventory/made/write-made.js";
import type { BenchRow } from "../timed.js";
import { type Measured, measured } from "./measured.js";

/**
 * A thousand reaches of a kilometre, made at the level of findings: their tables written as jobs do,
 * all of them gathered, and a question asked over all; gathering and asking in processes of their own.
 */
export async function benchInventory(count = 1000): Promise<readonly BenchRow[]> {
  const folder = mkdtempSync(join(tmpdir(), "banquette-bench-"));
  try {
    const made = madeInventory(count, 1);
    const start = performance.now();
    const reaches = await writeMade(folder, made);
    const written_ms = (performance.now() - start) / count;
    writeFileSync(join(folder, "reaches.json"), JSON.stringify(reaches));
    const named = `inventory, ${count.toLocaleString("en")} reaches`;
    const row = (what: string, seconds: number) => ({ what, microseconds: 1e6 * seconds });
    const gathered = measured("gather", folder);
    const asked = measured("query", folder);
    const shown = ({ processor_s, peak_MB }: Measured) =>
      `(${processor_s.toFixed(1)} s of a processor, peak ${peak_MB.toFixed(0)} MB)`;
    return [
      row(`${named}: tables of one reach written by its job`, written_ms / 1000),
      row(`${named}: gathered ${shown(gathered)}`, gathered.seconds),
      row(`${named}: opened and asked ${shown(asked)}`, asked.seconds),
    ];
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
