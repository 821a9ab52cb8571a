import { describe, expect, it } from "vitest";
import { correctDrift } from "../../../lib/drift/correct-drift.js";
import type { HeightReading } from "../../../lib/drift/zero/height-readings.js";
import { zeroLevel } from "../../../lib/drift/zero/zero-level.js";
import { coilResponse } from "../../../lib/earth/coil-response.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { StepError } from "../../../lib/step/step-error.js";
import { campaignOf } from "../../support/campaign.js";
import { noiseSd, tenChannels } from "../../support/disturbed.js";
import { expectClose } from "../../support/expect-close.js";

const channels = tenChannels("HCP");
const heights_m = [0.2, 0.5, 0.9, 1.4, 2, 3];
const offsets = channels.map((_, c) => (c % 3 === 0 ? 0 : 60 * (c % 2 === 0 ? 1 : -1.5)));

function test(
  earth: { readonly conductivity_S_per_m: number[]; readonly thickness_m: number[] },
  seed: number | null,
): readonly HeightReading[] {
  const random = seededRandom(seed ?? 0);
  return heights_m.flatMap((height_m) =>
    Array.from({ length: 5 }, () => ({
      height_m,
      values: Object.fromEntries(
        channels.map((channel, c) => {
          const { inphase_ppm, quadrature_ppm } = coilResponse(earth, { ...channel, height_m });
          const clean = channel.kind === "inphase" ? inphase_ppm : quadrature_ppm;
          const noise = seed === null ? 0 : noiseSd(channel, clean) * random.normal();
          return [channel.field, clean + offsets[c]! + noise];
        }),
      ),
    })),
  );
}
const halfSpace = { conductivity_S_per_m: [0.05], thickness_m: [] };
const twoLayers = { conductivity_S_per_m: [0.02, 0.08], thickness_m: [1.5] };

describe("zeroLevel", () => {
  it.each([
    ["a half-space", halfSpace],
    ["two layers", twoLayers],
  ])("gives back offsets and ground without noise (%s)", (_, earth) => {
    const found = zeroLevel(test(earth, null), channels);
    for (const [c, { channel, offset }] of found.channels.entries()) {
      expect(channel).toBe(channels[c]!.field);
      // The weak prior of the ground pulls by a small part of a standard error of 2 to 10 ppm.
      expectClose(offset, offsets[c]!, { absolute: 2 });
    }
    expectClose(found.earth.conductivity_S_per_m[0]!, earth.conductivity_S_per_m[0]!, {
      relative: 0.03,
    });
    expect(found.misfit).toBeLessThan(0.2);
  });

  it("states errors that hold the truth two times out of three", () => {
    let [held, all, twice] = [0, 0, 0];
    for (let seed = 1; seed <= 12; seed++) {
      for (const [c, one] of zeroLevel(test(twoLayers, seed), channels).channels.entries()) {
        const off = Math.abs(one.offset - offsets[c]!);
        all++;
        if (off < one.error) held++;
        if (off < 2 * one.error) twice++;
      }
    }
    expect(held / all).toBeGreaterThan(0.6);
    expect(twice / all).toBeGreaterThan(0.9);
  });

  it("leaves out a channel that was read at one height only", () => {
    const few = test(halfSpace, 1).map(({ height_m, values }) => {
      const { q_1500_hcp: one, ...others } = values;
      return { height_m, values: height_m === 0.5 ? { ...others, q_1500_hcp: one! } : others };
    });
    const found = zeroLevel(few, channels).channels.map(({ channel }) => channel);
    expect(found).toHaveLength(channels.length - 1);
    expect(found).not.toContain("q_1500_hcp");
  });

  it("refuses one height, heights below ground and what is no list", () => {
    const one = [{ height_m: 1, values: { q_1500_hcp: 5 } }];
    const bad: [unknown, string][] = [
      [one, "one-height"],
      [[{ height_m: -1, values: {} }], "negative"],
      [[{ height_m: 1 }, { height_m: 2, values: {} }], "no-values"],
      ["high", "not-a-list"],
    ];
    for (const [readings, code] of bad) {
      try {
        zeroLevel(readings as HeightReading[], channels);
        expect.unreachable();
      } catch (error) {
        expect((error as StepError).faults[0]!.code).toBe(code);
      }
    }
    expect(() => zeroLevel(test(halfSpace, 1), channels, { floor: 0 })).toThrow(StepError);
  });
});

describe("correctDrift with a height test", () => {
  const chainage_m = Array.from({ length: 20 }, (_, i) => 2 * i);
  const values = channels.map((_, c) => chainage_m.map(() => 500 + offsets[c]!));
  const campaign = campaignOf({ passes: [{ channels, chainage_m, values }] });
  const heightTest = test(twoLayers, 4);
  const result = correctDrift(campaign, { heightTest });

  it("takes the zero level off where it is known to differ from 0", () => {
    const { zeroLevel: found, passes } = result.value;
    expect(found!.channels).toHaveLength(channels.length);
    for (const [c, { offset, error }] of found!.channels.entries()) {
      const taken = Math.abs(offset) > 2 * error ? offset : 0;
      expect(passes[0]!.values[c]![3]!).toBeCloseTo(500 + offsets[c]! - taken, 9);
      expectClose(passes[0]!.values[c]![3]!, 500, { absolute: 4 * error });
    }
    expect([...passes[0]!.corrected]).toEqual(new Array(20).fill(1));
  });

  it("hands the error of the level on with the drift's", () => {
    const { zeroLevel: found, passes } = result.value;
    const c = found!.channels.findIndex(({ offset, error }) => Math.abs(offset) > 2 * error);
    expect(passes[0]!.driftSd![c]![0]!).toBeCloseTo(found!.channels[c]!.error, 9);
  });

  it("says what was found", () => {
    expect(result.tables.map(({ id }) => id)).toContain("zero-level-2031-10");
    expect(result.summary).toContain("zero level");
  });

  it("names every fault of the test", () => {
    expect(() => correctDrift(campaign, { heightTest: [] })).toThrow("options.heightTest must be");
  });
});
