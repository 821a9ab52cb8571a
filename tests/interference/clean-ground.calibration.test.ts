// Ground without metal, of every kind and under every instrument of the menagerie.
import { describe, expect, it } from "vitest";
import { maskInterference } from "../../lib/interference/mask-interference.js";
import { BANKS, campaignsOf, GROUND_KINDS, INSTRUMENT_KINDS, makeSurvey } from "../abroad/index.js";

const SURVEYS = Number(process.env.CLEAN_SURVEYS ?? 1);

describe("ground without metal", () => {
  it("is taken for metal about once in 25,000 readings, on no kind of ground more", () => {
    const found = new Map<string, number>(GROUND_KINDS.map((ground) => [ground, 0]));
    let readings = 0;
    for (let k = 0; k < SURVEYS; k++) {
      for (const ground of GROUND_KINDS) {
        for (const instrument of INSTRUMENT_KINDS) {
          const [campaign] = campaignsOf(makeSurvey({ seed: 3100 + k, ground, instrument }));
          readings += campaign!.passes.reduce((sum, { count }) => sum + count, 0);
          const { interference } = maskInterference(campaign!).value;
          found.set(ground, found.get(ground)! + interference.length);
        }
      }
    }
    const expected = readings / 25_000;
    const all = [...found.values()];
    // Poisson: beyond these lies less than one in a hundred.
    expect(all.reduce((sum, one) => sum + one, 0)).toBeLessThanOrEqual(
      expected + 2.6 * Math.sqrt(expected) + 1,
    );
    const each = expected / GROUND_KINDS.length;
    for (const [ground, stretches] of found) {
      expect(stretches, ground).toBeLessThanOrEqual(each + 3 * Math.sqrt(each) + 1);
    }
  });

  it("is not taken for an object along the line because the bank has slopes", () => {
    for (const bank of BANKS) {
      for (const stated of [true, false]) {
        const sketch = {
          seed: 3100,
          ground: "blocks",
          instrument: "three separations HCP",
        } as const;
        const made = makeSurvey({ ...sketch, length_m: 2000, slopes: { bank } });
        const [campaign] = campaignsOf(made).map(({ crossSections, ...rest }) =>
          stated && crossSections ? { ...rest, crossSections } : rest,
        );
        expect(maskInterference(campaign!).value.alongLine, `${bank}, ${stated}`).toEqual([]);
      }
    }
  });
});
