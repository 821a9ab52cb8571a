// Pairs of campaigns of the menagerie, 400 m long, with 40 % over 80 m between 0.8 and 3.2 m or with
// nothing: what is found, what is false, and how often the 90 % interval of the ratio holds, under
// errors of instrument and operator. tests/calibration.md has the figures over more pairs.
import { describe, expect, it } from "vitest";
import { compareCampaigns } from "../../../../lib/campaigns/pair/compare-campaigns.js";
import type { DepthSlices } from "../../../../lib/depth/depth-slices.js";
import { estimateDepthSlices } from "../../../../lib/depth/estimate-depth-slices.js";
import { type FieldErrors, makeErrors } from "../../../abroad/field/errors.js";
import type { Case, ErrorKind, InstrumentKind } from "../../../abroad/index.js";
import { type ChangeJudged, judgeChange } from "../../../abroad/judged/judge-change.js";
import { makeSurvey, type SurveyPlan } from "../../../abroad/survey.js";
import { campaignsOf } from "../../../abroad/written/in-memory.js";
import { expectDraws, expectValidSpec } from "../../../figures/support/check-spec.js";
import { expectShare } from "../../../support/expect-share.js";

const pairs = Number(process.env.PAIRS ?? 5);
const first = Number(process.env.FIRST_SEED ?? 4001);
const INSTRUMENTS: readonly InstrumentKind[] = [
  "three separations HCP+PRP",
  "five frequencies HCP",
  "2 and 4 m, mS/m",
];
const ALL = "zero, gain, height, temperature";
const STILL: readonly ErrorKind[] = [ALL, "second operator, a quarter", "second operator, a half"];

async function judged(cases: readonly Omit<Case, "seed">[], planted: boolean) {
  const all: ChangeJudged[] = [];
  for (const one of cases) {
    for (let seed = first; seed < first + pairs; seed++) {
      all.push(await judgeChange({ ...one, seed }, planted));
    }
  }
  return all;
}

const count = (all: readonly ChangeJudged[], of: (one: ChangeJudged) => boolean) =>
  all.filter(of).length;
const report = (text: string) => {
  if (process.env.PAIRS !== undefined) process.stdout.write(`${text}\n`);
};

// Ten minutes: asked for by PAIRS, and not yet run whole on the estimator as it is.
describe.runIf(process.env.PAIRS)(`compareCampaigns by channels, ${pairs} pairs a case`, () => {
  it.each(INSTRUMENTS)(
    "finds nine of ten under every error of the instrument at once: %s",
    async (instrument) => {
      const all = await judged([{ ground: "blocks", instrument, errors: ALL }], true);
      const found = count(all, ({ score }) => score.found > 0);
      const held = count(all, ({ headline }) => headline === "held");
      const slices = all.reduce((sum, one) => sum + one.slices, 0);
      const slicesHeld = all.reduce((sum, one) => sum + one.slicesHeld, 0);
      report(`${instrument}: found ${found}, held ${held}, slices ${slicesHeld} of ${slices}`);
      expect(found / pairs).toBeGreaterThanOrEqual(0.9 - 2 * Math.sqrt(0.09 / pairs));
      expectShare([held, found], 0.9, 3);
    },
    1_800_000,
  );

  it.each(STILL)(
    "finds nothing in 95 of 100 pairs where nothing changed: %s",
    async (errors) => {
      const cases = INSTRUMENTS.map((instrument) => ({
        ground: "blocks" as const,
        instrument,
        errors,
      }));
      const all = await judged(cases, false);
      const wrong = count(all, ({ score }) => score.falseStretches > 0);
      report(`${errors}: false in ${wrong} of ${all.length}`);
      expect(wrong / all.length).toBeLessThanOrEqual(0.05 + 2 * Math.sqrt(0.0475 / all.length));
    },
    1_800_000,
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

/** Two campaigns with the change between them, estimated once. */
let pair: ReturnType<typeof pairOf> | undefined;
const changed = () => {
  pair ??= pairOf({ changes: [CHANGE] });
  return pair;
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
    const still = compareCampaigns(...(await pairOf({ errors: off })));
    expect(still.value.changes).toEqual([]);
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
    const [, short] = await pairOf({ changes: [CHANGE] });
    const usual = compareCampaigns((await pairOf({}))[0], short);
    expect(usual.cautions.some(({ text }) => /the other way/.test(text))).toBe(false);
  });

  it("gives a stretch that a second operator walked to the height of the coils", async () => {
    const [earlier, later] = await pairOf({});
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
    const [earlier] = await pairOf({});
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
