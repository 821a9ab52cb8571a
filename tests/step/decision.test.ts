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

  it("holds numbers by their general type, and words as those that were named", () => {
    expectTypeOf(decision).toEqualTypeOf<Decision<number>>();
    const pegs = decide("pegs", "check", { because: "x", alternatives: ["correct"] });
    expectTypeOf(pegs.value).toEqualTypeOf<"check" | "correct">();
    const price = decide("price", "mbic", { because: "x", alternatives: [20] });
    expectTypeOf(price.value).toEqualTypeOf<"mbic" | number>();
    // @ts-expect-error a decision without a reason is no decision
    expect(() => decide("shortest block", 40, {})).toThrow(StepError);
  });

  it("says whose the reason is: the author's, or still the tool's", () => {
    const proposal = decide("shortest block", 40, { proposed: "Repairs are longer." });
    expect([proposal.isProposal, decision.isProposal]).toEqual([true, false]);
    expect(proposal.because).toBe("Repairs are longer.");
    const words = "Proposed by the tool, not yet by the author";
    const bundle = display(proposal as Decision<never>);
    expect(bundle["text/plain"]).toContain(`${words}: Repairs are longer.`);
    expect(bundle["text/html"]).toContain(words);
    expect(display(decision as Decision<never>)["text/html"]).not.toContain(words);
    // @ts-expect-error one reason is enough
    const both = () => decide("x", 1, { because: "mine", proposed: "the tool's" });
    expect(both).toThrow("decide: proposed must be left out where there is a reason of one's own");
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
