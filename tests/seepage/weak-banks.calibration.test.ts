// Seeded banks through the steps from their readings: weak places of known sizes in three of four. The
// weights were measured on seeds under 100; seeds from 1001 on chose nothing.
import { beforeAll, describe, expect, it } from "vitest";
import { blanketSeepage } from "../../lib/earth/blanket.js";
import { seededRandom } from "../../lib/numerics/random.js";
import type { JudgedStretch } from "../../lib/seepage/hydraulics/judged-stretch.js";
import { type SeepageEvidence, scoreSeepage } from "../../lib/seepage/score-seepage.js";
import { resultValue } from "../../lib/step/step-result.js";
import {
  type JudgedBank,
  judged,
  type WorkedBank,
  workedBank,
} from "../abroad/seepage/judged-bank.js";
import { areaUnderCurve, brierScore, forecastsOf, reliability } from "../abroad/seepage/scores.js";

const COUNT = Number(process.env.SEEPAGE_BANKS ?? 8);
const FIRST = 1001;

let banks: WorkedBank[];
let all: JudgedBank[];
beforeAll(async () => {
  banks = [];
  for (let k = 0; k < COUNT; k++) banks.push(await workedBank({ seed: FIRST + k }));
  all = banks.map((bank) => judged(bank));
}, 60_000 * COUNT);

/** Deviation of a share over cells of banks, as from so many banks that differ. */
const jackknife = (of: (some: readonly JudgedBank[]) => number, given = all) => {
  const left = given
    .map((_, i) => of(given.toSpliced(i, 1)))
    .filter((value) => !Number.isNaN(value));
  const mean = left.reduce((sum, one) => sum + one, 0) / left.length;
  const squares = left.reduce((sum, one) => sum + (one - mean) ** 2, 0);
  return Math.sqrt(((left.length - 1) / left.length) * squares);
};

describe("the score over seeded banks", () => {
  it("ranks weak cells over others: area under the curve 0.9", () => {
    const area = (some: readonly JudgedBank[]) => areaUnderCurve(forecastsOf(some));
    expect(area(all) + 2 * jackknife(area)).toBeGreaterThan(0.9);
    expect(area(all)).toBeGreaterThan(0.75);
  });

  it("says probabilities that come true, no more and no less often", () => {
    const off = (some: readonly JudgedBank[]) => {
      const [one] = reliability(forecastsOf(some), [0, 1.01]);
      return one!.said - one!.seen;
    };
    expect(Math.abs(off(all))).toBeLessThan(2.5 * jackknife(off) + 0.005);
    const high = (some: readonly JudgedBank[]) => {
      const [, one] = reliability(forecastsOf(some), [0, 0.4, 1.01]);
      return one!.said - one!.seen;
    };
    expect(Math.abs(high(all))).toBeLessThan(2.5 * jackknife(high) + 0.05);
  });

  it("has a Brier score under that of knowing how many cells are weak, and no more", () => {
    const forecasts = forecastsOf(all);
    const weak = forecasts.filter(({ isWeak }) => isWeak).length / forecasts.length;
    expect(brierScore(forecasts)).toBeLessThan(weak * (1 - weak));
  });

  it("names a zone in one of ten banks without a weak place at the most", () => {
    const sound = all.filter(({ isSound }) => isSound);
    const named = sound.filter(({ falseZones }) => falseZones > 0).length;
    const slack = 2 * Math.sqrt((0.1 * 0.9) / sound.length);
    expect(sound.length).toBeGreaterThan(0);
    expect(named / sound.length).toBeLessThanOrEqual(0.1 + slack);
  });
});

describe("with evidence removed at random", () => {
  const reduced = () => {
    const random = seededRandom(5);
    const isIn = () => random.uniform() < 0.5;
    return banks.map((bank) => ({ ...bank, evidence: someOf(bank.evidence, isIn) }));
  };

  it("nothing fails, and what is not known weighs nothing", () => {
    for (const { evidence } of reduced()) {
      const { value, summary } = scoreSeepage(evidence);
      for (const { value: known, weight } of value.pieces) {
        expect(known.every((v, i) => !Number.isNaN(v) || weight[i] === 0)).toBe(true);
      }
      expect(summary).not.toMatch(/\b(safe|NaN|undefined)\b/);
    }
  });

  it("calls no more cells unlikely than are: of those under a hundredth one in a hundred is weak", () => {
    const low = (some: readonly JudgedBank[]) => {
      const [one] = reliability(forecastsOf(some), [0, 0.01]);
      return one!.cells > 0 ? one!.seen : 0;
    };
    const fewer = reduced().map((bank) => judged(bank));
    expect(low(fewer)).toBeLessThan(0.01 + 2 * jackknife(low, fewer));
    expect(Math.min(...forecastsOf(fewer).map(({ probability }) => probability))).toBeGreaterThan(
      1e-3,
    );
  });
});

function someOf(evidence: SeepageEvidence, isIn: () => boolean): SeepageEvidence {
  const survey = resultValue(evidence.survey);
  const { blocks, changes, sections, otherLines } = evidence;
  return {
    survey: {
      ...survey,
      incidents: isIn() ? survey.incidents : [],
      fieldNotes: isIn() ? survey.fieldNotes : [],
      waterLevels: isIn() ? survey.waterLevels : [],
      boreholes: isIn() ? survey.boreholes : [],
    },
    slices: evidence.slices,
    ...(isIn() && blocks && { blocks }),
    ...(isIn() && changes && { changes }),
    ...(isIn() && sections && { sections }),
    ...(isIn() && otherLines && { otherLines }),
  };
}

describe("exit gradients over seeded banks", () => {
  it("rank as the true ones where the data tell them apart: correlation 0.7", () => {
    const found = banks.flatMap((bank, b) => {
      const told = all[b]!.seepage.stretches.filter(({ exitGradient }) => exitGradient !== null);
      return told.length < 4 ? [] : [rankCorrelation(told, (one) => trueGradient(bank, one))];
    });
    const mean = found.reduce((sum, one) => sum + one, 0) / found.length;
    const squares = found.reduce((sum, one) => sum + (one - mean) ** 2, 0);
    const error = found.length > 1 ? Math.sqrt(squares / (found.length - 1) / found.length) : 0.2;
    expect(found.length).toBeGreaterThan(0);
    expect(mean + 2 * error).toBeGreaterThan(0.7);
  });

  it("hold the true ones in four stretches of five", () => {
    const inside = banks.map((bank, b) => {
      const known = all[b]!.seepage.stretches.filter(({ hydraulics }) => hydraulics !== null);
      const held = known.filter((one) => {
        const truth = trueGradient(bank, one);
        const { p10, p90 } = one.hydraulics!.exitGradient;
        return truth >= p10 && truth <= p90;
      });
      return held.length / known.length;
    });
    const share = inside.reduce((sum, one) => sum + one, 0) / inside.length;
    // Stretches of one bank are off together: banks count.
    expect(Math.abs(share - 0.8)).toBeLessThan(2.5 * Math.sqrt((0.8 * 0.2) / inside.length));
  });
});

function trueGradient({ foundation, survey }: WorkedBank, at: JudgedStretch): number {
  const x = (at.from_m + at.to_m) / 2;
  const shape = survey.crossSectionAt(x);
  const height_m = shape.crestElevation_m! - shape.foundationElevation_m!;
  return blanketSeepage({
    head_m: survey.designWaterLevel_m! - foundation.ground_m(x),
    baseWidth_m: shape.crestWidth_m! + height_m * (shape.watersideSlope! + shape.landsideSlope!),
    blanketThickness_m: foundation.blanket_m(x),
    aquiferThickness_m: foundation.aquifer_m(x),
    blanketConductivity_m_per_s: foundation.blanket_m_per_s,
    aquiferConductivity_m_per_s: foundation.aquifer_m_per_s,
    watersideLength_m: foundation.watersideLength_m,
    landsideLength_m: foundation.landsideLength_m,
    landside: foundation.landside,
    saturatedUnitWeight_kN_per_m3: 18,
  }).exitGradient;
}

function rankCorrelation(
  stretches: readonly JudgedStretch[],
  truth: (one: JudgedStretch) => number,
): number {
  const ranked = (values: readonly number[]) =>
    values.map((value) => values.filter((other) => other < value).length);
  const one = ranked(stretches.map(({ exitGradient }) => exitGradient!.p50));
  const other = ranked(stretches.map(truth));
  const middle = (one.length - 1) / 2;
  const sum = (a: readonly number[], b: readonly number[]) =>
    a.reduce((total, value, i) => total + (value - middle) * (b[i]! - middle), 0);
  return sum(one, other) / Math.sqrt(sum(one, one) * sum(other, other));
}
