import { describe, expect, it } from "vitest";
import { nearestName } from "../../../lib/step/options/nearest-name.js";

const known = ["minLength_m", "classDistance", "cell_m", "pervious_ohm_m", "q", "_internal"];

describe("nearestName", () => {
  it.each([
    ["a letter exchanged", "minLemgth_m", "minLength_m"],
    ["two letters the wrong way round", "minLegnth_m", "minLength_m"],
    ["capitals", "MINLENGTH_M", "minLength_m"],
    ["underscores", "min_length_m", "minLength_m"],
    ["the unit left out", "pervious", "pervious_ohm_m"],
    ["another unit", "cell_ft", "cell_m"],
    ["a unit too many", "classDistance_m", "classDistance"],
    ["an underscore in front", "_intrenal", "_internal"],
  ])("sees through %s", (_, given, name) => {
    expect(nearestName(given, known)).toBe(name);
  });

  it("takes the nearest of several, the first of equally near ones", () => {
    expect(nearestName("weight", ["height", "weights"])).toBe("height");
    expect(nearestName("weihgts", ["height", "weights"])).toBe("weights");
    expect(nearestName("tip", ["tap", "top"])).toBe("tap");
  });

  it("gives none where more than a third of the letters differ", () => {
    expect(nearestName("probability", known)).toBeNull();
    expect(nearestName("abcxyz", ["abcdef"])).toBeNull();
    expect(nearestName("abcdxy", ["abcdef"])).toBe("abcdef");
    expect(nearestName("anything", [])).toBeNull();
  });
});
