// What `check` says of sound surveys of other ground, other instruments and other errors: nothing
// that is not so. The menagerie of tests/abroad; the limits were set without it.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { checkSurvey } from "../../../lib/chain/check/check-survey.js";
import { faultLine } from "../../../lib/survey/check/faults.js";
import {
  BANKS,
  ERROR_KINDS,
  GROUND_KINDS,
  INSTRUMENT_KINDS,
  makeSurvey,
  type SurveyPlan,
  writeSurvey,
} from "../../abroad/index.js";

/** Surveys; a quarter of a second each. */
const SURVEYS = Number(process.env.CHECKED_SURVEYS ?? 60);
const FIRST_SEED = 30_001;

/** Without errors base checks repeat number for number, as no instrument's do. */
const ERRORS = ERROR_KINDS.filter((kind) => kind !== "exact");

function planOf(n: number): SurveyPlan {
  const plan = {
    seed: FIRST_SEED + n,
    ground: GROUND_KINDS[n % GROUND_KINDS.length]!,
    instrument: INSTRUMENT_KINDS[(3 * n) % INSTRUMENT_KINDS.length]!,
    errors: ERRORS[(5 * n) % ERRORS.length]!,
    length_m: 150,
  };
  return n % 2 === 0 ? plan : { ...plan, slopes: { bank: BANKS[n % BANKS.length]! } };
}

/** True of these surveys: receivers that lose or hold their position. */
const TRUE_WORDS = [/without a position/, /far off the walk/, /walked backwards/];

describe("checkSurvey on sound surveys", () => {
  it("has no fault, and no caution but what is so", async () => {
    const said: string[] = [];
    for (let n = 0; n < SURVEYS; n++) {
      const folder = mkdtempSync(join(tmpdir(), "banquette-sound-"));
      try {
        const plan = planOf(n);
        writeSurvey(makeSurvey(plan), folder);
        const { faults, cautions } = await checkSurvey(folder);
        const odd = cautions.filter((text) => !TRUE_WORDS.some((words) => words.test(text)));
        for (const text of [...faults.map(faultLine), ...odd]) {
          said.push(`${plan.ground}, ${plan.instrument}, ${plan.errors}: ${text}`);
        }
      } finally {
        rmSync(folder, { recursive: true });
      }
    }
    expect(said).toEqual([]);
  });
});
