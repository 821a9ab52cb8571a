import { describe, expect, it } from "vitest";
import { factored, KIND_SHARES, KINDS } from "../../../lib/depth/prior/kinds.js";
import { expectClose } from "../../support/expect-close.js";

const sum = (values: Float64Array) => values.reduce((total, value) => total + value, 0);
const shareOf = (shares: Float64Array, holds: (kind: (typeof KINDS)[number]) => boolean) =>
  sum(shares.filter((_, at) => holds(KINDS[at]!)));

describe("the kinds of ground", () => {
  it("have shares that add up to one", () => {
    expectClose(sum(KIND_SHARES), 1, { absolute: 1e-12 });
  });
});

describe("factored", () => {
  it("leaves the shares as they are where masses are in their proportion", () => {
    for (const [at, share] of factored(KIND_SHARES.map((one) => 7 * one)).entries()) {
      expectClose(share, KIND_SHARES[at]!, { absolute: 1e-12 });
    }
  });

  it("moves one part of a kind without the others", () => {
    const masses = KIND_SHARES.map((one, at) => (KINDS[at]!.rough > 0.5 ? 3 * one : one));
    const found = factored(masses);
    expectClose(sum(found), 1, { absolute: 1e-12 });
    // 0.15 of the shares, three times as much: 0.45 / 1.3.
    expectClose(
      shareOf(found, ({ rough }) => rough > 0.5),
      0.45 / 1.3,
      { absolute: 1e-12 },
    );
    const sharp = (shares: Float64Array) => shareOf(shares, ({ graded }) => !graded);
    expectClose(sharp(found), sharp(KIND_SHARES), { absolute: 1e-12 });
  });

  it("learns steps and forms from ground that has them", () => {
    const masses = KIND_SHARES.map((_, at) => (KINDS[at]!.interfaces === 0 ? 1 : 0));
    masses[KINDS.findIndex(({ interfaces, graded }) => interfaces === 1 && graded)]! = 1;
    expect(shareOf(factored(masses), ({ graded }) => !graded)).toBeGreaterThan(0.5);
  });
});
