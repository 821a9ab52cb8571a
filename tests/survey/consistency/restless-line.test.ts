import { describe, expect, it } from "vitest";
import { restlessLine, restlessText } from "../../../lib/survey/consistency/restless-line.js";
import { campaignsOf, INSTRUMENT_KINDS, makeSurvey } from "../../abroad/index.js";
import { metalEverywhere, rescaled } from "./spoiled-campaigns.js";

const PLAN = { seed: 4711, ground: "blocks", errors: "field", length_m: 60 } as const;
const campaignOf = (instrument: (typeof INSTRUMENT_KINDS)[number]) =>
  campaignsOf(makeSurvey({ ...PLAN, instrument }))[0]!;

describe("restlessLine", () => {
  it.each(INSTRUMENT_KINDS)("has nothing to say of %s over ordinary ground", (instrument) => {
    expect(restlessLine(campaignOf(instrument))).toBeNull();
  });

  it.each(INSTRUMENT_KINDS)("sees metal along the whole line with %s", (instrument) => {
    const found = restlessLine(metalEverywhere(7)(campaignOf(instrument)));
    // Factors of exp(0.6 z) scatter by 0.6 or so of their median.
    expect(found!.jump).toBeGreaterThan(0.4);
    expect(found!.jump).toBeLessThan(0.9);
    expect(restlessText(found!)).toMatch(
      /^readings jump by \d+ % of themselves from one to the next nearly everywhere, as beside metal/,
    );
  });

  it("is the same in another unit, and null without readings", () => {
    const campaign = metalEverywhere(7)(campaignOf("2 and 4 m, mS/m"));
    const other = rescaled(() => 1e-3)(campaign);
    expect(restlessLine(other)!.jump).toBeCloseTo(restlessLine(campaign)!.jump, 9);
    expect(restlessLine({ ...campaign, passes: [] })).toBeNull();
  });

  it("leaves metal on a part of the line to the masks", () => {
    const quiet = campaignOf("five frequencies HCP");
    const spoiled = metalEverywhere(7)(quiet);
    const passes = quiet.passes.map((pass, p) => ({
      ...pass,
      values: pass.values.map((column, c) => {
        const part = column.slice();
        part.set(spoiled.passes[p]!.values[c]!.subarray(0, Math.floor(pass.count / 3)));
        return part;
      }),
    }));
    expect(restlessLine({ ...quiet, passes })).toBeNull();
  });
});
