// The whole appendix, as a process, on surveys of every ground, instrument and set of errors.
import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { banquetteIn } from "../kernels/command/banquette.js";
import { withFolder } from "../kernels/support/cells.js";
import { fewerAlternatives } from "../notebooks/support/fewer-alternatives.js";
import {
  ERROR_KINDS,
  GROUND_KINDS,
  INSTRUMENT_KINDS,
  makeSurvey,
  type SurveyPlan,
  writeSurvey,
} from "./index.js";

/** Each instrument comes with each ground once in seven rounds, the errors in turn. */
const ROUNDS = Number(process.env.ABROAD_ROUNDS ?? 1);
const FIRST = Number(process.env.ABROAD_FIRST_ROUND ?? 0);
/** An appendix tries the alternatives of one decision of so many, in turn; 1 tries them all. */
const DECISIONS = Number(process.env.ABROAD_DECISIONS ?? 4);

function planOf(k: number): SurveyPlan {
  const i = k % INSTRUMENT_KINDS.length;
  const round = Math.floor(k / INSTRUMENT_KINDS.length);
  return {
    seed: 7000 + k,
    ground: GROUND_KINDS[(i + round) % GROUND_KINDS.length]!,
    instrument: INSTRUMENT_KINDS[i]!,
    errors: ERROR_KINDS[k % ERROR_KINDS.length]!,
    length_m: 200,
    campaigns: 1 + (k % 2),
    toe: k % 5 === 0,
  };
}

const plans = Array.from({ length: 7 * ROUNDS }, (_, k) => planOf(k + 7 * FIRST));
const named = plans.map((plan) => ({ ...plan, name: `${plan.ground}, ${plan.instrument}` }));

describe("an appendix abroad", () => {
  it.each(named)("is written over $name with errors of kind $errors", async (plan) => {
    await withFolder(async (folder) => {
      writeSurvey(makeSurvey(plan), join(folder, "bank"));
      await writeFile(join(folder, "abroad.ipynb"), await fewerAlternatives(plan.seed, DECISIONS));
      const words = ["appendix", "bank", "--notebook", "abroad.ipynb", "--out", "out"];
      const run = await banquetteIn(folder, words);
      expect(run.exitCode, run.err).toBe(0);
      const findings = JSON.parse(await readFile(join(folder, "out", "findings.json"), "utf8"));
      const depths = [findings.depth].flat() as { slices: unknown[]; misfit: number }[];
      const told = findings.cautions.map(({ text }: { text: string }) => text).join("\n");
      for (const { slices, misfit } of depths) {
        if (slices.length === 0) expect(told).toContain("known reliably at no depth");
        if (misfit > 2) expect(told).toContain("no layered ground explains the readings");
      }
      const page = await readFile(join(folder, "out", "appendix.html"), "utf8");
      expect(page).not.toMatch(/\b(NaN|undefined)\b(?= m\b| ohm-m| %)/);
    });
  });
});
