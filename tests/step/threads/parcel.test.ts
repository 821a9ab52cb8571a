import { describe, expect, it } from "vitest";
import { workKinds } from "../../../lib/chain/work-kinds.js";
import { Decision, decide } from "../../../lib/step/decision.js";
import { packed, unpacked } from "../../../lib/step/threads/parcel.js";
import { crossSectionAlong } from "../../../lib/survey/bank/cross-section-along.js";

/** As another thread receives it. */
const sent = (value: unknown) => {
  const parcel = packed(value, workKinds);
  return parcel && unpacked(structuredClone(parcel), workKinds);
};

describe("a parcel", () => {
  it("brings plain data, maps and columns as they are", () => {
    const value = {
      name: "crest",
      missing: Number.NaN,
      list: [1, null, undefined],
      map: new Map([["a", new Set([1])]]),
      short: Float64Array.of(1, 2),
      long: Float64Array.from({ length: 500 }, (_, i) => i / 3),
      flags: new Uint8Array(2000).fill(3),
    };
    expect(sent(value)).toEqual(value);
  });

  it("keeps one object one object, and long columns in memory that is shared", () => {
    const column = new Float64Array(1000).fill(7);
    const parcel = packed({ one: { column }, two: column }, []);
    const got = unpacked(structuredClone(parcel) as NonNullable<typeof parcel>, []) as {
      readonly one: { readonly column: Float64Array };
      readonly two: Float64Array;
    };
    expect(got.one.column).toBe(got.two);
    expect(got.two.buffer).toBeInstanceOf(SharedArrayBuffer);
    expect(column.buffer).toBeInstanceOf(ArrayBuffer);
  });

  it("makes decisions and cross-sections anew", () => {
    const decision = decide("segmentBlocks.minLength_m", 40, { because: "a test tries it" });
    const level = { chainage_m: [], value: [], constant: 4 };
    const crossSectionAt = crossSectionAlong({
      crestWidth_m: level,
      crestElevation_m: { chainage_m: [0, 100], value: [6, 5], constant: null },
      foundationElevation_m: { ...level, constant: null },
      watersideSlope: level,
      landsideSlope: level,
    });
    const got = sent({ decision, crossSectionAt }) as typeof original;
    const original = { decision, crossSectionAt };
    expect(got.decision).toBeInstanceOf(Decision);
    expect(got.decision).toEqual(decision);
    expect(got.crossSectionAt(50)).toEqual(original.crossSectionAt(50));
    expect(got.crossSectionAt(50).crestElevation_m).toBe(5.5);
  });

  it("is none where something cannot be sent", () => {
    expect(packed({ at: () => 1 }, workKinds)).toBeNull();
    expect(packed({ day: new Date(0) }, workKinds)).toBeNull();
  });
});
