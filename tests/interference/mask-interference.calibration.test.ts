import { readFileSync } from "node:fs";
import { beforeAll, describe, expect, it } from "vitest";
import { correctDrift } from "../../lib/drift/correct-drift.js";
import { maskInterference } from "../../lib/interference/mask-interference.js";
import type { Masked } from "../../lib/interference/masked.js";
import { openSurvey } from "../../lib/place/open-survey.js";

interface MetalTruth {
  readonly object: string;
  readonly noted: boolean;
  readonly silent: boolean;
  readonly campaigns: readonly string[];
  readonly from_m: number;
  readonly to_m: number;
  readonly footprint: { readonly from_m: number; readonly to_m: number } | null;
}

const { metal } = JSON.parse(readFileSync("data-demo/sedgeholm-truth/truth.json", "utf8")) as {
  readonly metal: readonly MetalTruth[];
};

describe("maskInterference on the demo", () => {
  let campaigns: readonly Masked[];
  beforeAll(async () => {
    const survey = await openSurvey("data-demo/sedgeholm");
    campaigns = survey.value.campaigns.map((one) => maskInterference(correctDrift(one)).value);
  });

  const there = (value: Masked) => metal.filter((one) => one.campaigns.includes(value.label));

  it("covers every real object with its whole footprint", () => {
    for (const value of campaigns) {
      for (const { object, footprint } of there(value)) {
        if (footprint === null) continue;
        const covered = value.interference.some(
          ({ from_m, to_m }) => from_m <= footprint.from_m && to_m >= footprint.to_m,
        );
        expect(covered, `${object}, ${value.label}`).toBe(true);
      }
    }
  });

  it("lists both objects that nobody noted, and nothing else, as unexplained", () => {
    for (const value of campaigns) {
      const unnoted = there(value).filter(({ noted }) => !noted);
      expect(value.unexplained).toHaveLength(2);
      for (const [i, { from_m, to_m }] of unnoted.entries()) {
        expect(value.unexplained[i]!.from_m).toBeLessThan(from_m);
        expect(value.unexplained[i]!.to_m).toBeGreaterThan(to_m);
      }
    }
  });

  it("lists the note that leaves no trace, and leaves it in use", () => {
    const silent = metal.filter((one) => one.silent).map(({ object }) => object);
    for (const value of campaigns) {
      expect(value.silentNotes.map(({ object }) => object)).toEqual(silent);
    }
  });

  it("sets aside at most 12 % of the readings, and no stretch without metal", () => {
    for (const value of campaigns) {
      const readings = value.passes.reduce((sum, { count }) => sum + count, 0);
      const aside = value.interference.reduce((sum, one) => sum + one.readings, 0);
      expect(aside / readings).toBeLessThan(0.12);
      expect(value.interference).toHaveLength(there(value).filter((one) => !one.silent).length);
    }
  });
});
