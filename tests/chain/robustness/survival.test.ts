import { describe, expect, it } from "vitest";
import { lostStretches, overlapOverUnion } from "../../../lib/chain/robustness/survival.js";

const stretch = (from_m: number, to_m: number, kind = "") => ({ from_m, to_m, kind });

describe("overlapOverUnion", () => {
  it("is 1 for the same, 0 for what does not touch, and the same both ways", () => {
    expect(overlapOverUnion(stretch(10, 40), stretch(10, 40))).toBe(1);
    expect(overlapOverUnion(stretch(10, 40), stretch(50, 60))).toBe(0);
    expect(overlapOverUnion(stretch(0, 100), stretch(50, 150))).toBeCloseTo(1 / 3, 12);
    expect(overlapOverUnion(stretch(50, 150), stretch(0, 100))).toBeCloseTo(1 / 3, 12);
  });
});

describe("lostStretches", () => {
  const name = ({ from_m }: { readonly from_m: number }) => `at ${from_m}`;

  it("names what has nothing that shares two thirds of what either covers", () => {
    const before = [stretch(0, 100), stretch(200, 300), stretch(400, 500)];
    const after = [stretch(10, 110), stretch(280, 400)];
    expect(lostStretches({ before, after }, name)).toEqual(["at 200", "at 400"]);
  });

  it("looks among those of the same kind", () => {
    const [before, after] = [[stretch(0, 100, "low")], [stretch(0, 100, "high")]];
    expect(lostStretches({ before, after }, name)).toEqual([]);
    const isLike = (one: { kind: string }, other: { kind: string }) => one.kind === other.kind;
    expect(lostStretches({ before, after }, name, isLike)).toEqual(["at 0"]);
  });
});
