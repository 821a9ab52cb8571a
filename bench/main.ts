import { benchCoilResponse } from "./coil-response.js";
import type { BenchRow } from "./timed.js";

/** Every bench of the project: add a function that returns its rows. */
const BENCHES: readonly (() => readonly BenchRow[])[] = [benchCoilResponse];

const rows = BENCHES.flatMap((bench) => bench());
const width = Math.max(...rows.map((row) => row.what.length));
for (const row of rows) {
  console.log(`${row.what.padEnd(width)}  ${row.microseconds.toFixed(1).padStart(10)} µs`);
}
