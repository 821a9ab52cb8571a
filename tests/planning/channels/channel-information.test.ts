import { describe, it } from "vitest";
import { channelInformation } from "../../../lib/planning/channels/channel-information.js";
import { expectClose } from "../../support/expect-close.js";

describe("channelInformation", () => {
  it("shares nothing where channels see different variations", () => {
    const { shared, levels } = channelInformation(Float64Array.of(2, 0, 0, 3), 2);
    for (const one of shared) expectClose(one, 0, { absolute: 1e-12 });
    // K = diag(4, 9): 4/5 + 9/10.
    expectClose(levels, 1.7, { relative: 1e-12 });
  });

  it("knows what a channel adds to its twin", () => {
    const { shared, levels } = channelInformation(Float64Array.of(3, 3), 2);
    // I + K = [[10, 9], [9, 10]], determinant 19: alone ½ ln 10, added ½ ln (19/10).
    const expected = 1 - Math.log(1.9) / Math.log(10);
    for (const one of shared) expectClose(one, expected, { relative: 1e-12 });
    expectClose(levels, 2 - 20 / 19, { relative: 1e-12 });
  });
});
