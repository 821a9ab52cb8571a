import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../lib/numerics/random.js";
import { median, quantile } from "../../../lib/numerics/robust.js";
import { coregistrationCautions } from "../../../lib/place/coregister/account.js";
import type { PassShift } from "../../../lib/place/coregister/pass-shift.js";
import { coregistrationTables } from "../../../lib/place/coregister/tables.js";
import { placeDefaults } from "../../../lib/place/options.js";
import type { Campaign, Pass } from "../../../lib/survey/survey.js";
import { snapshot } from "../../support/campaign.js";
import { expectClose } from "../../support/expect-close.js";
import { misplaced, placed, withValues } from "../../survey/support/misplaced.js";

const none = () => 0;
const seeds = (first: number, count: number) => Array.from({ length: count }, (_, k) => first + k);

/** Of the first pair; fails where nothing was told. */
function told(campaign: ReturnType<typeof placed>): PassShift {
  const { found } = campaign.placement.coregistration.pairs[0]!;
  if (typeof found === "string") throw new Error(`not told: ${found}`);
  return found;
}

function cautionsOf({ placement }: ReturnType<typeof placed>): string {
  return coregistrationCautions(placement, placeDefaults).join("\n");
}

/** The pass walked the other way. */
function turned(pass: Pass): Pass {
  const back = (values: Float64Array) => values.toReversed();
  return {
    ...pass,
    easting_m: back(pass.easting_m),
    northing_m: back(pass.northing_m),
    chainage_m: back(pass.chainage_m),
    values: pass.values.map(back),
  };
}

/** Median of how far the pass's chainages lie ahead of where its readings were made. */
const offsetOf = (found: ReturnType<typeof placed>, truth: Campaign, p: number) =>
  median(found.campaign.passes[p]!.chainage_m.map((x, i) => x - truth.passes[p]!.chainage_m[i]!));

// The thresholds of the method were chosen on seeds 5000 to 5059; these are others.
describe("passes that lie apart along the bank", () => {
  it("by 0.5 to 3 m are found within 0.5 m in 90 of 100 surveys and more, as sure as they say", () => {
    const found = seeds(9000, 200).map((seed) => {
      const random = seededRandom(seed);
      const shift = (0.5 + 2.5 * random.uniform()) * (random.uniform() < 0.5 ? -1 : 1);
      const orientations = seed % 2 === 0 ? (["HCP", "VCP"] as const) : (["HCP", "HCP"] as const);
      const campaign = misplaced({ seed, ahead_m: [none, () => shift], orientations });
      const result = placed(campaign);
      const { mean_m, sd_m } = told(result);
      const apart_m = offsetOf(result, campaign, 1) - offsetOf(result, campaign, 0);
      return { shift, error: mean_m - shift, z: (mean_m - shift) / sd_m, apart_m };
    });
    const within = found.filter(({ error }) => Math.abs(error) <= 0.5).length / found.length;
    expect(within).toBeGreaterThanOrEqual(0.9);
    // 95 % within two standard deviations for normal errors; 200 draws give that to within 3 %.
    const sure = found.filter(({ z }) => Math.abs(z) <= 2).length / found.length;
    expect(sure).toBeGreaterThan(0.88);
    // What is a metre or more apart is brought together: to within what the smoothed positions allow.
    const wide = found.filter(({ shift }) => Math.abs(shift) >= 1);
    expect(
      quantile(
        wide.map(({ apart_m }) => Math.abs(apart_m)),
        0.9,
      ),
    ).toBeLessThan(0.5);
  });

  it("are not made up: of 200 surveys without a misplacement none is moved", () => {
    for (const seed of seeds(9300, 200)) {
      const result = placed(misplaced({ seed, ahead_m: [none, none] }));
      expect(result.placement.coregistration.moved_m).toEqual([0, 0]);
      expect(Math.abs(told(result).mean_m)).toBeLessThan(0.5);
    }
  });

  it("more at one end than at the other are followed along the bank", () => {
    const errors = seeds(9600, 20).flatMap((seed) => {
      const phase = 6 * seededRandom(seed).uniform();
      const ahead = (x: number) => 1.2 + Math.sin(x / 150 + phase);
      const campaign = misplaced({ seed, length_m: 1000, ahead_m: [none, ahead] });
      const { at_m, shift_m } = told(placed(campaign));
      expect(at_m.length).toBeGreaterThan(5);
      return at_m.map((x, k) => Math.abs(shift_m[k]! - ahead(x)));
    });
    // Within a stretch of 100 m the misplacement itself changes by up to 0.65 m.
    expect(quantile(errors, 0.9)).toBeLessThan(0.5);
  });

  it("keep what they read and are not written into", () => {
    const campaign = misplaced({ seed: 9700, ahead_m: [none, () => 2] });
    const before = snapshot(campaign);
    const { passes } = placed(campaign).campaign;
    expect(snapshot(campaign)).toBe(before);
    for (const [p, pass] of passes.entries())
      expect(pass.values).toEqual(campaign.passes[p]!.values);
  });
});

describe("bringing passes together", () => {
  const two = { seed: 9710, ahead_m: [none, () => 2] };
  const apart = misplaced(two);

  it("moves both to their middle, on the map too, and makes their places less sure", () => {
    const [left, moved] = [placed(apart, { passShift_m: "ignore" }), placed(apart)];
    const { coregistration } = moved.placement;
    expect(coregistration.from).toBe("readings");
    const { mean_m, sd_m } = told(moved);
    expectClose(coregistration.moved_m[0]!, mean_m / 2, { absolute: 1e-6 });
    expectClose(coregistration.moved_m[1]!, -mean_m / 2, { absolute: 1e-6 });
    for (const p of [0, 1]) {
      const [a, b] = [left.campaign.passes[p]!, moved.campaign.passes[p]!];
      expectClose(b.chainage_m[100]! - a.chainage_m[100]!, coregistration.moved_m[p]!, {
        absolute: 1e-6,
      });
      expectClose(b.easting_m[100]! - 500_000, b.chainage_m[100]!, { absolute: 1e-6 });
      // Half of the shift's uncertainty falls to each of the two.
      const expected = Math.hypot(a.positionSd_m![100]!, sd_m / 2);
      expectClose(b.positionSd_m![100]!, expected, { absolute: 1e-9 });
    }
  });

  it("says what was done, how sure it is, and what it cannot know", () => {
    const text = cautionsOf(placed(apart));
    expect(text).toMatch(
      /walk-2\.csv lies [12]\.\d ± 0\.1 m ahead of walk-1\.csv along the bank by what they read \(correlation 0\.\d\d over 3\d\d m\); they are brought to their middle/,
    );
    expect(text).toMatch(
      /the middle of passes brought together may itself be off by up to 1\.\d m/,
    );
    const [table] = coregistrationTables([{ ...placed(apart).placement, campaign: "2031-10" }]);
    expect(table!.rows[0]!.fate).toBe("brought to their middle");
  });

  it("only says so when told to check, and looks at nothing when told to ignore", () => {
    const checked = placed(apart, { passShift_m: "check" });
    expect(checked.placement.coregistration.moved_m).toEqual([0, 0]);
    expect(cautionsOf(checked)).toContain('passShift_m: "correct" would bring them');
    const ignored = placed(apart, { passShift_m: "ignore" });
    expect(ignored.placement.coregistration.pairs).toEqual([]);
    expect(cautionsOf(ignored)).toBe("");
    expect(ignored.campaign.passes.map(({ chainage_m }) => chainage_m)).toEqual(
      checked.campaign.passes.map(({ chainage_m }) => chainage_m),
    );
  });

  it("takes a misplacement that is given", () => {
    const given = placed(apart, { passShift_m: { "walk-2.csv": 2 } });
    const left = placed(apart, { passShift_m: "ignore" });
    expect(given.placement.coregistration.moved_m).toEqual([0, -2]);
    expect(given.campaign.passes[0]!.chainage_m).toEqual(left.campaign.passes[0]!.chainage_m);
    expectClose(
      given.campaign.passes[1]!.chainage_m[50]! - left.campaign.passes[1]!.chainage_m[50]!,
      -2,
      {
        absolute: 1e-9,
      },
    );
    expect(cautionsOf(given)).toContain("as given, by up to 2.0 m");
  });

  it("sets three passes right against each other by all their pairs", () => {
    const shifts = [0, 2.4, -1.2];
    const campaign = misplaced({
      seed: 9720,
      ahead_m: shifts.map((shift) => () => shift),
      orientations: ["HCP", "VCP", "HCP"],
    });
    const { placement } = placed(campaign);
    expect(placement.coregistration.pairs).toHaveLength(3);
    const mean = 0.4;
    for (const [p, shift] of shifts.entries()) {
      expectClose(placement.coregistration.moved_m[p]!, mean - shift, { absolute: 0.4 });
    }
    const sum = placement.coregistration.moved_m.reduce((total, one) => total + one, 0);
    expectClose(sum, 0, { absolute: 1e-6 });
  });

  it("does to two walks in opposite directions what taking out their time lag does", () => {
    // Readings late by 1.5 s at 1.2 m in 1.2 s: either walk's positions lie 1.5 m on in its own way.
    const campaign = misplaced({ seed: 9730, ahead_m: [() => 1.5, () => -1.5] });
    const walked = { ...campaign, passes: [campaign.passes[0]!, turned(campaign.passes[1]!)] };
    const [byLag, byMiddle] = [placed(walked, { timeLag_s: "estimate" }), placed(walked)];
    expect(byLag.placement.lagFrom).toBe("passes");
    expect(byLag.placement.coregistration.moved_m).toEqual([0, 0]);
    expectClose(byMiddle.placement.coregistration.moved_m[0]!, -1.5, { absolute: 0.3 });
    expect(cautionsOf(byMiddle)).toContain("a time lag looks the same");
    expect(cautionsOf(byLag)).not.toContain("a time lag looks the same");
    for (const p of [0, 1]) {
      const [a, b] = [byLag, byMiddle].map(({ campaign: { passes } }) => passes[p]!.chainage_m);
      expectClose(median(a!.map((x, i) => x - b![i]!)), 0, { absolute: 0.3 });
    }
  });
});

describe("where the readings do not tell", () => {
  const sketch = { ahead_m: [none, () => 2] };

  it("a shift, for want of texture, it is said and none is made", () => {
    for (const seed of seeds(9800, 20)) {
      const flat = withValues(misplaced({ seed, ...sketch }), (_, normal) => 800 + 10 * normal());
      const result = placed(flat);
      expect(result.placement.coregistration.pairs[0]!.found).toBe("unlike");
      expect(result.placement.coregistration.moved_m).toEqual([0, 0]);
      expect(cautionsOf(result)).toBe(
        "whether walk-1.csv and walk-2.csv agree along the bank cannot be told: what they read is too " +
          "flat, or too unlike",
      );
    }
  });

  it("which of several places is meant, as on ground that repeats itself, neither", () => {
    for (const seed of seeds(9830, 20)) {
      const wave = withValues(
        misplaced({ seed, ...sketch }),
        (x, normal) => 800 + 60 * Math.sin((2 * Math.PI * x) / 4) + 10 * normal(),
      );
      const result = placed(wave);
      expect(["flat", "beyond"]).toContain(result.placement.coregistration.pairs[0]!.found);
      expect(cautionsOf(result)).toContain("cannot be told");
    }
  });

  it("passes of other ground or another line apart, nor short ones", () => {
    const here = misplaced({ seed: 9850, ...sketch });
    const there = misplaced({ seed: 9851, ...sketch });
    const foundOf = (passes: Campaign["passes"]) =>
      placed({ ...here, passes }).placement.coregistration.pairs[0]!.found;
    expect(foundOf([here.passes[0]!, there.passes[1]!])).toBe("unlike");
    const toe = here.passes[1]!;
    const aside = { ...toe, northing_m: toe.northing_m.map((y) => y + 8) };
    expect(foundOf([here.passes[0]!, aside])).toBe("other line");
    const short = { ...sketch, seed: 9852, length_m: 140 };
    expect(placed(misplaced(short)).placement.coregistration.pairs[0]!.found).toBe("no overlap");
  });
});
