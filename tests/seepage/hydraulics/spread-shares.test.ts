import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../lib/numerics/random.js";
import { inputShares } from "../../../lib/seepage/hydraulics/spread-shares.js";
import { expectClose } from "../../support/expect-close.js";

const random = seededRandom(7);
const chances = Array.from({ length: 8000 }, () =>
  Float64Array.from({ length: 3 }, () => random.uniform()),
);

describe("shares of the spread", () => {
  it("are those of Ishigami's function", () => {
    // Ishigami & Homma 1990, a = 7, b = 0.1: S1 0.3139, S2 0.4424, S3 0 (closed form).
    const results = Float64Array.from(chances, (u) => {
      const [x, y, z] = [...u].map((one) => Math.PI * (2 * one - 1));
      return Math.sin(x!) + 7 * Math.sin(y!) ** 2 + 0.1 * z! ** 4 * Math.sin(x!);
    });
    const shares = inputShares(["x", "y", "z"], chances)(results);
    const of = (name: string) => shares.find(({ input }) => input === name)!.share;
    // Twenty classes smooth the sine a little; the rest is chance.
    expectClose(of("x"), 0.3139, { absolute: 0.03 });
    expectClose(of("y"), 0.4424, { absolute: 0.03 });
    expectClose(of("z"), 0, { absolute: 0.02 });
    expect(shares.map(({ input }) => input)).toEqual(["y", "x", "z"]);
  });

  it("are none of a result that never differs", () => {
    const shares = inputShares(["x"], chances)(Float64Array.from(chances, () => 3));
    expect(shares).toEqual([{ input: "x", share: 0 }]);
  });
});
