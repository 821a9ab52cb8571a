import { describe, expect, it } from "vitest";
import { decidedOptions, refuseUnknownSteps } from "../../lib/chain/decided-options.js";
import { decide } from "../../lib/step/decision.js";
import { StepError } from "../../lib/step/step-error.js";

const because = "a test says so";
const shortest = decide("segmentBlocks.minLength_m", 30, { because });
const price = decide("segmentBlocks.penalty", "mbic", { because });
const freely = decide("season of the walk", "autumn", { because });

describe("decidedOptions", () => {
  it("takes the options of one step from decisions named step.option", () => {
    const options = decidedOptions([shortest, price, freely], "segmentBlocks");
    expect(options).toEqual({ minLength_m: 30, penalty: "mbic" });
    expect(decidedOptions([shortest, freely], "scoreSeepage")).toEqual({});
  });

  it("lets a later decision replace an earlier one", () => {
    const again = decide("segmentBlocks.minLength_m", 50, { because });
    expect(decidedOptions([shortest, again], "segmentBlocks")).toEqual({ minLength_m: 50 });
  });

  it("refuses a step that does not exist, and lets free names be", () => {
    expect(() => refuseUnknownSteps([shortest, freely])).not.toThrow();
    const typo = decide("segmentBlock.minLength_m", 30, { because });
    expect(() => refuseUnknownSteps([typo])).toThrow(StepError);
    expect(() => refuseUnknownSteps([typo])).toThrow(/decisions\[0\]\.name must be a step of/);
  });
});
