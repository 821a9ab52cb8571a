import { describe, expect, it } from "vitest";
import type { HeightReading } from "../../../lib/drift/zero/height-readings.js";
import { zeroLevel } from "../../../lib/drift/zero/zero-level.js";
import { StepError } from "../../../lib/step/step-error.js";
import { expectClose } from "../../support/expect-close.js";
import { channels, halfSpace, heightTest, offsets, twoLayers } from "./support.js";

describe("zeroLevel", () => {
  it.each([
    ["a half-space", halfSpace],
    ["two layers", twoLayers],
  ])("gives back offsets and ground without noise (%s)", (_, earth) => {
    const found = zeroLevel(heightTest(earth, null), channels);
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

  it("leaves out a channel that was read at one height only", () => {
    const few = heightTest(halfSpace, 1).map(({ height_m, values }) => {
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
    expect(() => zeroLevel(heightTest(halfSpace, 1), channels, { floor: 0 })).toThrow(StepError);
  });
});
