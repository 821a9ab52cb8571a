import { describe, expect, it } from "vitest";
import { blocksStep } from "../../../lib/blocks/segment-blocks.js";
import {
  decidedOptions,
  nameFaults,
  targetOf,
} from "../../../lib/chain/decisions/decided-options.js";
import { chainStep } from "../../../lib/chain/links/blocks.js";
import { seepageStep } from "../../../lib/seepage/score-seepage.js";
import { decide } from "../../../lib/step/decision.js";

const because = "a test says so";
const shortest = decide("segmentBlocks.minLength_m", 30, { because });
const price = decide("segmentBlocks.penalty", "mbic", { because });
const freely = decide("season of the walk", "autumn", { because });
const steps = [blocksStep, seepageStep, chainStep];

describe("decided options", () => {
  it("are those of one step, from decisions named step.option", () => {
    const options = decidedOptions([shortest, price, freely], blocksStep);
    expect(options).toEqual({ minLength_m: 30, penalty: "mbic" });
    expect(decidedOptions([shortest, freely], seepageStep)).toEqual({});
  });

  it("are those of the later of two decisions on one option", () => {
    const again = decide("segmentBlocks.minLength_m", 50, { because });
    expect(decidedOptions([shortest, again], blocksStep)).toEqual({ minLength_m: 50 });
  });
});

describe("a decision's name", () => {
  it("speaks of a step and its option, of the chain itself, or of neither", () => {
    expect(targetOf(shortest, steps)).toEqual({ step: blocksStep, option: "minLength_m" });
    expect(targetOf({ name: "interpret.blocksFrom" }, steps)?.step).toBe(chainStep);
    expect(targetOf(freely, steps)).toBeNull();
    expect(nameFaults([shortest, price, freely], steps)).toEqual([]);
  });

  it("is at fault where the step, or its option, is none, and the likely one is guessed", () => {
    const names = ["segmentBlock.minLength_m", "segmentBlocks.minLenght_m", "scoreSeepage.cells"];
    const faults = nameFaults(
      names.map((name) => decide(name, 30, { because })),
      steps,
    );
    expect(faults.map(({ code, path, hint }) => ({ code, path, hint }))).toEqual([
      { code: "unknown-step", path: "decisions[0].name", hint: "did you mean segmentBlocks?" },
      {
        code: "unknown-option",
        path: "decisions[1].name",
        hint: "did you mean segmentBlocks.minLength_m?",
      },
      {
        code: "unknown-option",
        path: "decisions[2].name",
        hint: "did you mean scoreSeepage.cell_m?",
      },
    ]);
    expect(faults[0]?.expected).toContain("a step of segmentBlocks, scoreSeepage, interpret");
  });

  it("cannot speak of what is handed over from another step", () => {
    const [fault] = nameFaults([decide("segmentBlocks.boreholes", [], { because })], steps);
    expect(fault?.code).toBe("unknown-option");
  });
});
