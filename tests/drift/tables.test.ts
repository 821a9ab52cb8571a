import { describe, expect, it } from "vitest";
import { correctDrift } from "../../lib/drift/correct-drift.js";
import { drifting } from "../support/drifting.js";

describe("the table of correctDrift", () => {
  const truth = [
    { perHour: 80, step: 30 },
    { perHour: 0, step: 0 },
  ];
  const result = correctDrift(drifting({ seed: 3, truth }));

  it("has one row a channel", () => {
    expect(result.tables[0]!.rows).toHaveLength(2);
    expect(result.tables[0]!.rows[0]).toMatchObject({ checks: 6, done: "corrected" });
    expect(result.tables[0]!.rows[0]!.model).toBe("average");
    expect(result.tables[0]!.rows[0]!.odds).toMatch(/^(straight|warm-up) \d+ %/);
    expect(result.tables[0]!.rows[1]).toMatchObject({
      model: "none",
      odds: expect.stringMatching(/^steady/),
    });
  });
});
