import { describe, expect, it } from "vitest";
import { correctDrift } from "../../../lib/drift/correct-drift.js";
import { thereAndBack } from "../support.js";

describe("correctDrift without base checks, over seeded walks", () => {
  it("leaves a steady channel as it is in nine of ten", () => {
    const left = Array.from({ length: 20 }, (_, k) => correctDrift(thereAndBack(k, () => 0)));
    const none = left.filter(({ value }) => value.drift[0]!.model === "none");
    expect(none.length).toBeGreaterThanOrEqual(18);
  });
});
