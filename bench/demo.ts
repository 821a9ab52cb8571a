import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import {
  correctDrift,
  estimateDepthSlices,
  interpret,
  maskInterference,
  openSurvey,
  type StepResult,
  segmentBlocks,
} from "../lib/index.js";
import { type BenchRow, timedLong } from "./timed.js";

const repository = fileURLToPath(new URL("../../", import.meta.url));
const demo = join(repository, "data-demo/sedgeholm");

/** The demo survey step by step, as a chain, and as the whole command in its own process. */
export async function benchDemo(): Promise<readonly BenchRow[]> {
  const survey = await openSurvey(demo);
  const drift = correctDrift(survey.value.campaigns[0]!);
  const masked = maskInterference(drift);
  const slices = await estimateDepthSlices(masked);
  // A copy each time: steps remember what they made of the same frozen values.
  const again = <Value extends object>({ value }: StepResult<Value>): Value => ({ ...value });
  return [
    await timedLong("openSurvey, demo: 8,013 readings", () => openSurvey(demo)),
    await timedLong("maskInterference, one campaign", () => maskInterference(again(drift))),
    await timedLong("estimateDepthSlices, 1,201 stations, 20 channels", () =>
      estimateDepthSlices(again(masked)),
    ),
    await timedLong("segmentBlocks, 1,201 stations, 3 slices", () => segmentBlocks(slices)),
    await timedLong("interpret, demo, both campaigns", () => interpret(survey)),
    await timedLong("banquette appendix, demo, whole process", appendix),
  ];
}

function appendix(): void {
  const out = mkdtempSync(join(tmpdir(), "banquette-bench-"));
  const main = join(repository, "dist/kernels/command/main.js");
  const ran = spawnSync(process.execPath, [main, "appendix", demo, "--out", out]);
  rmSync(out, { recursive: true, force: true });
  if (ran.status !== 0) throw new Error(String(ran.stderr));
}
