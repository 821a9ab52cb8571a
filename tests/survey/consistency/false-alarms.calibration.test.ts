// How often sound surveys of other ground, other instruments and other errors are doubted.
//
// The menagerie of tests/abroad, every set of errors, every ground and instrument, half of them on
// banks with slopes. The thresholds were set on seeds below 1000.
import { describe, expect, it } from "vitest";
import { diagnoseChannels } from "../../../lib/survey/consistency/diagnose-channels.js";
import {
  BANKS,
  campaignsOf,
  ERROR_KINDS,
  GROUND_KINDS,
  INSTRUMENT_KINDS,
  makeSurvey,
  type SurveyPlan,
} from "../../abroad/index.js";

/** Surveys; an eighth of a second each. */
const SURVEYS = Number(process.env.DIAGNOSED_SURVEYS ?? 100);
const FIRST_SEED = 20_001;

/** Case after case through all combinations: 1029 of them, no two neighbours alike. */
function planOf(n: number): SurveyPlan {
  const k = (n * 409) % (ERROR_KINDS.length * GROUND_KINDS.length * INSTRUMENT_KINDS.length);
  const errors = ERROR_KINDS[k % ERROR_KINDS.length]!;
  const rest = Math.floor(k / ERROR_KINDS.length);
  const ground = GROUND_KINDS[rest % GROUND_KINDS.length]!;
  const instrument = INSTRUMENT_KINDS[Math.floor(rest / GROUND_KINDS.length)]!;
  const plan = { seed: FIRST_SEED + n, errors, ground, instrument, length_m: 100 };
  return n % 2 === 0 ? plan : { ...plan, slopes: { bank: BANKS[n % BANKS.length]! } };
}

describe("diagnoseChannels on sound surveys", () => {
  it("doubts fewer than one in a hundred", () => {
    const doubted = Array.from({ length: SURVEYS }, (_, n) => planOf(n)).flatMap((plan) => {
      const [campaign] = campaignsOf(makeSurvey(plan));
      const { explained, odd, misfit } = diagnoseChannels(campaign!);
      return explained.length + odd.length === 0 ? [] : [{ ...plan, explained, odd, misfit }];
    });
    expect(doubted.length / SURVEYS, JSON.stringify(doubted)).toBeLessThanOrEqual(0.01);
  });
});
