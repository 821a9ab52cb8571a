import { describe, expect, it } from "vitest";
import { findLines } from "../../../lib/place/lines/find-lines.js";
import { chosenFirst } from "../../../lib/place/lines/main-line.js";
import { readingsOfLine } from "../../../lib/place/lines/readings-of-line.js";
import { StepError } from "../../../lib/step/step-error.js";
import type { Campaign, Pass } from "../../../lib/survey/survey.js";
import { expectClose } from "../../support/expect-close.js";
import { walked } from "../../support/walked.js";

const ground = { thickness_m: [1.5], conductivity_S_per_m: [0.03, 0.02] };

/** Two walks of 200 m, 101 readings each, at a distance from the centreline. */
function campaign(
  names: readonly [string, string],
  offsets_m: readonly [number, number],
): Campaign {
  const made = walked({ groundAt: () => ground, length_m: 200 });
  const passes = made.passes.map((pass, p): Pass => {
    return {
      ...pass,
      line: pass.line.map(() => names[p]!),
      offset_m: pass.offset_m.map((_, i) => offsets_m[p]! + 0.2 * Math.sin(i)),
    };
  });
  return { ...made, passes };
}

describe("the lines of a survey", () => {
  it("are none to tell apart where every walk lies together, whatever the names", () => {
    expect(findLines([campaign(["crest-out", "crest-back"], [0, 1.5])])).toEqual([]);
  });

  it("are told apart where names lie apart across the bank, the one by the centreline first", () => {
    const lines = findLines([campaign(["toe", "crest"], [-14, 0.5])]);
    expect(lines.map(({ line }) => line)).toEqual(["crest", "toe"]);
    expectClose(lines[0]!.offset_m, 0.5, { absolute: 0.1 });
    expectClose(lines[1]!.offset_m, -14, { absolute: 0.1 });
    expect(lines.map(({ readings }) => readings)).toEqual([101, 101]);
  });

  it("keep a line's walks together over campaigns, under all their names", () => {
    const lines = findLines([
      campaign(["crest", "toe"], [0, -14]),
      campaign(["top", "toe"], [1, -13.5]),
    ]);
    expect(lines.map(({ line, readings }) => [line, readings])).toEqual([
      ["crest and top", 202],
      ["toe", 202],
    ]);
  });

  it("part readings under one name that lie apart, and say on which side", () => {
    const lines = findLines([campaign(["bank", "bank"], [0, -14])]);
    expect(lines.map(({ line }) => line)).toEqual([
      "bank, on the centreline",
      "bank, 14 m to the right",
    ]);
  });

  it("leave a name whole whose legs lie as far apart as a receiver may wander", () => {
    expect(findLines([campaign(["bank", "bank"], [-2.5, 2.5])])).toEqual([]);
  });

  it("part the legs of one pass where it came back along the toe", () => {
    const one = campaign(["", ""], [0, 0]).passes[0]!;
    const back = (values: Float64Array) => Float64Array.from([...values, ...values.toReversed()]);
    const pass = {
      ...one,
      count: 2 * one.count,
      row: Int32Array.from({ length: 2 * one.count }, (_, i) => i + 2),
      time_s: Float64Array.from({ length: 2 * one.count }, (_, i) => i),
      line: [...one.line, ...one.line],
      easting_m: back(one.easting_m),
      northing_m: back(one.northing_m),
      chainage_m: back(one.chainage_m),
      offset_m: Float64Array.from({ length: 2 * one.count }, (_, i) => (i < one.count ? 0 : -12)),
      height_m: back(one.height_m),
      values: one.values.map(back),
      setAside: one.setAside.map((marks) => new Uint8Array(2 * marks.length)),
      corrected: new Uint8Array(2 * one.count),
    };
    const whole = { ...campaign(["", ""], [0, 0]), passes: [pass] };
    const lines = findLines([whole]);
    expect(lines.map(({ line }) => line)).toEqual([
      "unnamed, on the centreline",
      "unnamed, 12 m to the right",
    ]);
    const counts = lines.map((line) => readingsOfLine([whole], line)[0]!.passes[0]!.count);
    expect(counts[0]! + counts[1]!).toBe(pass.count);
    // The turn itself is one reading of either.
    expect(Math.abs(counts[0]! - one.count)).toBeLessThanOrEqual(1);
  });

  it("give every reading to one line, those without a place too", () => {
    const given = campaign(["crest", "toe"], [0, -14]);
    const lost = (pass: Pass): Pass => ({
      ...pass,
      chainage_m: pass.chainage_m.map((x, i) => (i < 10 ? Number.NaN : x)),
      offset_m: pass.offset_m.map((x, i) => (i < 10 ? Number.NaN : x)),
    });
    const whole = { ...given, passes: given.passes.map(lost) };
    const parts = findLines([whole]).map((line) => readingsOfLine([whole], line));
    expect(parts.map(([one]) => one!.passes.map(({ count }) => count))).toEqual([[101], [101]]);
  });
});

describe("the line that is read first", () => {
  const lines = findLines([campaign(["crest", "toe"], [0, -14])]);

  it("is the one that is asked for", () => {
    expect(chosenFirst(lines, "toe").map(({ line }) => line)).toEqual(["toe", "crest"]);
    expect(chosenFirst(lines, null)).toBe(lines);
  });

  it("is refused where it was not walked, with those that were", () => {
    expect(() => chosenFirst(lines, "berm")).toThrow(StepError);
    expect(() => chosenFirst(lines, "berm")).toThrow(
      'options.line must be a line that was walked: "crest", "toe", got "berm"',
    );
    expect(() => chosenFirst([], "toe")).toThrow("null, the survey having one line");
  });
});
