import { benchBlocks } from "./blocks.js";
import { benchCoilResponse } from "./coil-response.js";
import { benchDemo } from "./demo.js";
import { benchDepth } from "./depth.js";
import { benchEmbankment } from "./embankment.js";
import { benchInventory } from "./inventory/bench-inventory.js";
import { benchSections } from "./sections.js";
import { benchSurvey } from "./survey.js";
import { benchThreads } from "./threads.js";
import type { BenchRow } from "./timed.js";

/** Every bench of the project: add a function that returns its rows. */
const BENCHES: readonly (() => readonly BenchRow[] | Promise<readonly BenchRow[]>)[] = [
  benchCoilResponse,
  benchEmbankment,
  benchBlocks,
  benchDepth,
  benchSections,
  benchDemo,
  benchSurvey,
  benchThreads,
  () => benchInventory(),
];

for (const bench of BENCHES) {
  for (const row of await bench()) console.log(`${row.what.padEnd(58)} ${readable(row)}`);
}
const peak_MB = process.resourceUsage().maxRSS / 1024;
console.log(`${"peak memory of this process".padEnd(58)} ${peak_MB.toFixed(0).padStart(10)} MB`);

function readable({ microseconds }: BenchRow): string {
  if (Number.isNaN(microseconds)) return "-".padStart(10);
  if (microseconds < 1e4) return `${microseconds.toFixed(1).padStart(10)} µs`;
  if (microseconds < 1e6) return `${(microseconds / 1e3).toFixed(1).padStart(10)} ms`;
  return `${(microseconds / 1e6).toFixed(2).padStart(10)} s`;
}
