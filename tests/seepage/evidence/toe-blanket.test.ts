import { describe, expect, it } from "vitest";
import { median } from "../../../lib/numerics/statistics/robust.js";
import { cellsAlong } from "../../../lib/seepage/evidence/piece.js";
import { slicesAt25 } from "../../../lib/seepage/evidence/slices-at-25.js";
import { thinAtToe, toeBlanket } from "../../../lib/seepage/evidence/toe-blanket.js";
import { makeDepthSlices } from "../../support/depth-slices.js";
import { expectClose } from "../../support/expect-close.js";

/** Clay of 16 ohm-m on sand of 80: 1.75 m thick, and 1 m from 300 to 360 m. */
const thickness = (x: number) => (x >= 300 && x < 360 ? 1 : 1.75);
const edges = [0, 1, 2.5, 5];
const slices = makeDepthSlices({
  texture: 0,
  sd: 0.02,
  truth: (x, k) => {
    const clay = Math.min(1, Math.max(0, (thickness(x) - edges[k]!) / (edges[k + 1]! - edges[k]!)));
    return clay * Math.log10(16) + (1 - clay) * Math.log10(80);
  },
});
const cells = cellsAlong(slices.chainage_m, 5);

describe("the blanket along the toe", () => {
  const toe = toeBlanket("toe", slicesAt25(slices, 1))!;

  it("is as thick as its share of the slices says", () => {
    const at = (x: number) => median(toe.draws.map((draw) => draw[x / 2]!));
    expectClose(at(100), 1.75, { absolute: 0.1 });
    expectClose(at(330), 1, { absolute: 0.1 });
  });

  it("is thin where it is thinner than along half of the line", () => {
    const { value } = thinAtToe(cells, toe, 0.75);
    expect(value[66]).toBeGreaterThan(0.95);
    expect(value[20]).toBeLessThan(0.05);
  });

  it("is not told where the line shows one level of resistivity only", () => {
    const even = makeDepthSlices({ texture: 0.02, truth: () => 1.4 });
    expect(toeBlanket("toe", slicesAt25(even, 1))).toBeNull();
  });

  it("is unknown, and said to be, where nobody walked there", () => {
    const piece = thinAtToe(cells, null, 0.75);
    expect(piece.value.every(Number.isNaN)).toBe(true);
    expect(piece.unknown).toContain("does not see the landside's blanket");
  });
});
