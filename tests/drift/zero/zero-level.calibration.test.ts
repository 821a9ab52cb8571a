import { describe, it } from "vitest";
import { zeroLevel } from "../../../lib/drift/zero/zero-level.js";
import { expectClose } from "../../support/expect-close.js";
import { channels, heightTest, offsets, twoLayers } from "./support.js";

describe("zeroLevel over seeded tests of heights", () => {
  it("states errors that hold the truth two times out of three", () => {
    let [held, all, twice] = [0, 0, 0];
    for (let seed = 1; seed <= 12; seed++) {
      for (const [c, one] of zeroLevel(heightTest(twoLayers, seed), channels).channels.entries()) {
        const off = Math.abs(one.offset - offsets[c]!);
        all++;
        if (off < one.error) held++;
        if (off < 2 * one.error) twice++;
      }
    }
    // Of normal errors, within three binomial standard errors of 120.
    expectClose(held / all, 0.683, { absolute: 3 * Math.sqrt((0.683 * 0.317) / all) });
    expectClose(twice / all, 0.954, { absolute: 3 * Math.sqrt((0.954 * 0.046) / all) });
  });
});
