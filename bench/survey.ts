import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { BenchRow } from "./timed.js";

const READINGS = 500_000;
const main = fileURLToPath(new URL("../kernels/command/main.js", import.meta.url));

/**
 * `banquette check` on half a million readings of ten channels (ten readings a second to and fro on a
 * bank of 2.4 km), in a process of its own: its time, and its peak memory as a row of its own unit.
 */
export function benchSurvey(): readonly BenchRow[] {
  const folder = mkdtempSync(join(tmpdir(), "banquette-bench-"));
  try {
    writeLargeSurvey(folder);
    const start = performance.now();
    const { stderr, status } = spawnSync(process.execPath, [main, "check", folder], {
      env: { ...process.env, NODE_OPTIONS: `--import=${peakReporter}` },
    });
    if (status !== 0) throw new Error(String(stderr));
    const peak_MB = Number(/peak (\d+)/.exec(String(stderr))?.[1]) / 1024;
    const what = `check, 500,000 readings (peak ${peak_MB.toFixed(0)} MB)`;
    return [{ what, microseconds: 1000 * (performance.now() - start) }];
  } finally {
    rmSync(folder, { recursive: true });
  }
}

const report =
  'process.on("exit",()=>process.stderr.write("peak "+process.resourceUsage().maxRSS))';
const peakReporter = `data:text/javascript,${encodeURIComponent(report)}`;

const CHANNELS = 10;

function writeLargeSurvey(folder: string): void {
  const fields = Array.from({ length: CHANNELS }, (_, c) => `q_${c}`);
  const channels = fields.map((field, c) => ({
    field,
    kind: "quadrature",
    unit: "ppm",
    frequency_Hz: 1500 * (c + 1),
    separation_m: 1.8,
    orientation: "HCP",
  }));
  const columns = ["longitude", "latitude", ...fields].map((name) => ({ name, type: "number" }));
  const schema = { fields: [{ name: "time", type: "datetime" }, ...columns] };
  const walk = { name: "walk", path: "walk.csv", role: "readings", campaign: "2031-10", schema };
  const resources = [
    { name: "centreline", path: "centreline.geojson", role: "centreline" },
    { ...walk, instrument: { height_m: 0.9, channels } },
  ];
  writeFileSync(join(folder, "datapackage.json"), JSON.stringify({ name: "large", resources }));
  writeFileSync(join(folder, "centreline.geojson"), JSON.stringify(centreline()));
  const lines = Array.from({ length: READINGS }, (_, i) => reading(i));
  const header = ["time", "longitude", "latitude", ...fields].join(",");
  writeFileSync(join(folder, "walk.csv"), `${header}\n${lines.join("\n")}\n`);
}

/** Forty straights of about 66 m in gentle bends. */
const VERTICES = Array.from({ length: 41 }, (_, k) => [
  3 + 0.001 * k,
  54 + 0.0003 * Math.sin(k / 4),
]);

function centreline() {
  return { type: "LineString", coordinates: VERTICES };
}

const START_MS = Date.UTC(2031, 9, 14, 7);

function reading(i: number): string {
  const along = Math.abs(((i / 18_000) % 2) - 1) * 40;
  const k = Math.min(39, Math.floor(along));
  const [from, to] = [VERTICES[k]!, VERTICES[k + 1]!];
  const at = (axis: 0 | 1) => from[axis]! + (along - k) * (to[axis]! - from[axis]!);
  const jitter = (salt: number) => 4e-6 * Math.sin(12.9898 * i + salt);
  const time = new Date(START_MS + 100 * i).toISOString();
  const values = Array.from({ length: CHANNELS }, (_, c) =>
    (100 * (c + 1) + 20 * Math.sin(along / 3 + c) + Math.sin(78.233 * i + c)).toFixed(1),
  );
  const place = [(at(0) + jitter(1)).toFixed(7), (at(1) + jitter(2) / 2).toFixed(7)];
  return [time, ...place, ...values].join(",");
}
