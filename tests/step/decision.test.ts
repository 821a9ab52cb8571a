import { describe, expect, expectTypeOf, it } from "vitest";
import { type Decision, decide, decidedText } from "../../lib/step/decision.js";
import { StepError } from "../../lib/step/step-error.js";

const display = (decision: Decision<never>) =>
  (decision as unknown as Record<symbol, () => Record<string, string>>)[
    Symbol.for("Jupyter.display")
  ]!();

describe("decide", () => {
  const decision = decide("shortest block", 40, {
    because: " Repairs are <50 m ",
    alternatives: [20, 80],
  });

  it("keeps the value, the reason and the alternatives, frozen", () => {
    expect(decision).toMatchObject({ value: 40, because: "Repairs are <50 m" });
    expect(decision.alternatives).toEqual([20, 80]);
    expect(Object.isFrozen(decision) && Object.isFrozen(decision.alternatives)).toBe(true);
  });

  it("holds the general type of a literal, and wants alternatives of that type", () => {
    expectTypeOf(decision).toEqualTypeOf<Decision<number>>();
    // @ts-expect-error an alternative to a number is a number
    decide("shortest block", 40, { because: "x", alternatives: ["short"] });
    // @ts-expect-error a decision without a reason is no decision
    expect(() => decide("shortest block", 40, {})).toThrow(StepError);
  });

  it("shows itself with its reason, escaped", () => {
    const bundle = display(decision as Decision<never>);
    expect(bundle["text/plain"]).toContain("Decided: shortest block = 40");
    expect(bundle["text/html"]).toContain("Repairs are &lt;50 m");
    expect(bundle["text/html"]).toContain("20 · 80");
  });

  it("refuses a blank name and a blank reason, both at once", () => {
    try {
      decide(" ", 1, { because: "" });
      expect.unreachable();
    } catch (error) {
      expect((error as StepError).faults.map(({ code, path }) => [code, path])).toEqual([
        ["blank", "name"],
        ["blank", "because"],
      ]);
    }
  });
});

describe("decidedText", () => {
  it("reads lists and objects as words", () => {
    expect(decidedText([0, 1.5])).toBe("0, 1.5");
    expect(decidedText({ present: 1.6, absent: -0.6 })).toBe("present: 1.6; absent: -0.6");
    expect(decidedText("mbic")).toBe("mbic");
  });
});
