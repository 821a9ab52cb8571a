// Pairs of campaigns of the menagerie, 400 m long, with 40 % over 80 m between 0.8 and 3.2 m or with
// nothing: what is found, what is false, and how often the 90 % interval of the ratio holds, under
// errors of instrument and operator. tests/calibration.md has the figures over more pairs.
import { describe, expect, it } from "vitest";
import { compareCampaigns } from "../../../../lib/campaigns/pair/compare-campaigns.js";
import type { DepthSlices } from "../../../../lib/depth/depth-slices.js";
import { estimateDepthSlices } from "../../../../lib/depth/estimate-depth-slices.js";
import { type FieldErrors, makeErrors } from "../../../abroad/field/errors.js";
import type { ConditionName } from "../../../abroad/judged/change/conditions.js";
import { estimated } from "../../../abroad/judged/change/estimated.js";
import { FOUND, type JudgedPair, judgedPair } from "../../../abroad/judged/change/judged.js";
import { changeTable, type JudgedCondition } from "../../../abroad/judged/change/table.js";
import { makeSurvey, type SurveyPlan } from "../../../abroad/survey.js";
import { campaignsOf } from "../../../abroad/written/in-memory.js";
import { expectDraws, expectValidSpec } from "../../../figures/support/check-spec.js";
import { expectShare } from "../../../support/expect-share.js";

const pairs = Number(process.env.PAIRS ?? 0);
const first = Number(process.env.FIRST_SEED ?? 4001);
const STILL: readonly ConditionName[] = [
  "zero",
  "gain",
  "height",
  "temperature",
  "second operator, a quarter",
  "second operator, a half",
];

async function judged(name: ConditionName): Promise<JudgedCondition> {
  const [still, changed]: [JudgedPair[], JudgedPair[]] = [[], []];
  for (let seed = first; seed < first + pairs; seed++) {
    const made = await estimated(name, seed);
    still.push(judgedPair(made, "still"));
    changed.push(judgedPair(made, "changed"));
  }
  process.stdout.write(`${changeTable(new Map([[name, { still, changed }]]))}\n`);
  return { still, changed };
}

const sum = (counts: readonly number[]) => counts.reduce((total, one) => total + one, 0);
const shareFalse = (all: readonly JudgedPair[]) =>
  sum(all.map(({ false_m }) => (false_m.length > 0 ? 1 : 0))) / all.length;

// Four to eight seconds of processor a seed: asked for by PAIRS.
describe.runIf(pairs > 0)(`compareCampaigns by channels, ${pairs} seeds a condition`, () => {
  it("finds nine of ten under every error of the instrument at once, and no others", async () => {
    const { still, changed } = await judged("all four");
    const found = changed.filter(({ overlap }) => overlap[0]! >= FOUND).length;
    const headlines = changed.flatMap((one) => one.headlines);
    expect(found / pairs).toBeGreaterThanOrEqual(0.9 - 2 * Math.sqrt(0.09 / pairs));
    expectShare([headlines.filter((one) => one === "held").length, headlines.length], 0.9, 3);
    expect(shareFalse(still)).toBeLessThanOrEqual(0.05 + 2 * Math.sqrt(0.0475 / pairs));
  }, 3_600_000);

  it.each(STILL)(
    "finds nothing in 95 of 100 pairs where nothing changed: %s",
    async (name) => {
      const { still } = await judged(name);
      expect(shareFalse(still)).toBeLessThanOrEqual(0.05 + 2 * Math.sqrt(0.0475 / pairs));
    },
    3_600_000,
  );
});

const CHANGE = { from_m: 70, to_m: 130, top_m: 0.4, base_m: 2, factor: 0.6 };
const PLAN: SurveyPlan = {
  seed: 41,
  ground: "gradational",
  instrument: "three separations HCP",
  length_m: 240,
  campaigns: 2,
};

async function pairOf(more: Partial<SurveyPlan>): Promise<[DepthSlices, DepthSlices]> {
  const [one, other] = campaignsOf(makeSurvey({ ...PLAN, ...more }));
  const earlier = (await estimateDepthSlices(one!)).value;
  return [earlier, (await estimateDepthSlices(other!, { slices: earlier.slices })).value];
}

/** Two campaigns with the change between them, and two with none, estimated once. */
let changedPair: ReturnType<typeof pairOf> | undefined;
let stillPair: ReturnType<typeof pairOf> | undefined;
const changed = () => {
  changedPair ??= pairOf({ changes: [CHANGE] });
  return changedPair;
};
const still = () => {
  stillPair ??= pairOf({});
  return stillPair;
};

const errors = (more: Partial<FieldErrors>): FieldErrors => ({ ...makeErrors("noise"), ...more });

describe("compareCampaigns by channels", () => {
  it("is not moved by zeros, gains, heights and a wrong temperature", async () => {
    const off = errors({
      zero_ppm: 25,
      gain: 0.03,
      height: { byWalk_m: 0.1, second_m: 0, share: 0 },
      temperature_degC: 3,
    });
    const same = compareCampaigns(...(await pairOf({ errors: off })));
    expect(same.value.changes).toEqual([]);
    const { changes } = compareCampaigns(
      ...(await pairOf({ errors: off, changes: [CHANGE] })),
    ).value;
    expect(changes.map(({ direction }) => direction)).toEqual(["fell"]);
  });

  it("says that half of a line has no majority", async () => {
    const half = { ...CHANGE, from_m: 120, to_m: 240 };
    const { value, cautions } = compareCampaigns(...(await pairOf({ changes: [half] })));
    const told = cautions.some(({ text }) => /the rest that changed, the other way/.test(text));
    const isOffset = value.offsets!.some(({ orGround }) => orGround);
    expect(told || isOffset).toBe(true);
    const usual = compareCampaigns(...(await changed()));
    expect(usual.cautions.some(({ text }) => /the other way/.test(text))).toBe(false);
  });

  it("gives a stretch that a second operator walked to the height of the coils", async () => {
    const [earlier, later] = await still();
    const lifted = await pairOf({
      errors: errors({ height: { byWalk_m: 0, second_m: 0.12, share: 0.5 } }),
    });
    const result = compareCampaigns(earlier, lifted[1]);
    expect(result.value.changes).toEqual([]);
    const { offsets } = result.value;
    expect(offsets!.length).toBe(1);
    // The step is either way from the middle; gains and season of the whole line take part of it (seen 0.033).
    expect(Math.abs(Math.abs(offsets![0]!.height_m) - 0.12)).toBeLessThan(0.04);
    expect(Math.abs(offsets![0]!.from_m - 120)).toBeLessThan(12);
    expect(result.cautions.some(({ text }) => /counts as no change of the ground/.test(text))).toBe(
      true,
    );
    await expectDraws(result.figures[0]!.spec);
    expect(later.campaign).toBe(lifted[1].campaign);
  });

  it("compares by slices, with a caution, where no channel is shared", async () => {
    const [earlier] = await still();
    const [, other] = await pairOf({ instrument: "2 and 4 m, mS/m" });
    const result = compareCampaigns(earlier, other);
    expect(result.value.by).toBe("slices");
    expect(result.cautions.some(({ text }) => /share no channel/.test(text))).toBe(true);
  });

  it("finds a change, its depths and its size, and says what it compared", async () => {
    const result = compareCampaigns(...(await changed()));
    const { by, changes } = result.value;
    expect(by).toBe("channels");
    expect(changes.length).toBe(1);
    const [one] = changes;
    // Half a spacing, and noise of ends: a few stations of 2 m.
    expect(Math.abs(one!.from_m - CHANGE.from_m)).toBeLessThan(6);
    expect(Math.abs(one!.to_m - CHANGE.to_m)).toBeLessThan(6);
    expect(one!.direction).toBe("fell");
    expect(one!.q).toBeLessThan(1e-6);
    expect(one!.ratioInterval![0]).toBeLessThan(CHANGE.factor + 0.15);
    expect(
      result.cautions.some(({ text }) => /common to the line was removed from each/.test(text)),
    ).toBe(true);
    const [figure] = result.figures;
    expectValidSpec(figure!.spec);
    await expectDraws(figure!.spec);
  });

  it("compares what is shared, and says how much", async () => {
    const [earlier, later] = await changed();
    const fewer = { ...later, readings: later.readings!.slice(0, 4) };
    const result = compareCampaigns(earlier, fewer);
    expect(result.value.by).toBe("channels");
    expect(result.cautions.some(({ text }) => /share 4 of the earlier one's 6/.test(text))).toBe(
      true,
    );
    expect(result.value.changes.map(({ direction }) => direction)).toEqual(["fell"]);
  });

  it("changes nothing that it was given, and gives the same twice", async () => {
    const pair = await changed();
    const before = structuredClone(pair);
    const first = compareCampaigns(...pair).value;
    expect(pair).toEqual(before);
    expect(compareCampaigns(...pair).value).toEqual(first);
  });
});
