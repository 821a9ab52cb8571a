import { describe, expect, it } from "vitest";
import { missingGround } from "../../../lib/earth/embankment/missing-ground.js";
import { cumulativeResponse } from "../../../lib/earth/half-space.js";
import { expectClose } from "../../support/expect-close.js";

const ORIENTATIONS = ["HCP", "VCP", "PRP"] as const;

describe("missingGround", () => {
  it.each(
    ORIENTATIONS.flatMap((orientation) => [
      { orientation, separation_m: 1, height_m: 0.9 },
      { orientation, separation_m: 4, height_m: 0.2 },
      { orientation, separation_m: 20, height_m: 1 },
    ]),
  )("of a wall under the line is half of level ground: %o", (coils) => {
    // McNeill 1980: what lies below a depth has π/s times the cumulative response of it.
    const breaks = [0, 0.5, 3, 7];
    const halves = missingGround({ edge_m: 0, slope: 0 }, coils, breaks);
    const below = breaks.map((depth) =>
      cumulativeResponse(coils.orientation, (depth + coils.height_m) / coils.separation_m),
    );
    for (const [i, half] of halves.entries()) {
      const slab = (Math.PI / coils.separation_m) * (below[i]! - below[i + 1]!);
      // The quadrature's points, and what lies beyond 300 distances; of the whole response where
      // the ground between the coils and that beyond them nearly cancel (HCP).
      const whole = Math.PI / coils.separation_m;
      expectClose(2 * half, slab, { relative: 2e-4, absolute: 1e-5 * whole });
    }
  });

  it("does not depend on how the depths are sliced", () => {
    const side = { edge_m: 1.2, slope: 2 };
    const coils = { orientation: "PRP", separation_m: 2, height_m: 0.5 } as const;
    const slices = missingGround(side, coils, [0, 0.3, 1, 2.2, 4]);
    const whole = missingGround(side, coils, [0, 4])[0]!;
    expectClose(
      slices.reduce((sum, slice) => sum + slice, 0),
      whole,
      { relative: 1e-5 },
    );
    expect(missingGround(side, coils, [2])).toHaveLength(0);
  });
});
