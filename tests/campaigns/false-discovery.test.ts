import { describe, expect, it } from "vitest";
import { falseDiscoveryAdjusted } from "../../lib/campaigns/false-discovery.js";
import { expectClose } from "../support/expect-close.js";

// Benjamini & Hochberg 1995, Journal of the Royal Statistical Society B 57, 289–300, section 4.1:
// fifteen p-values of a trial of thrombolysis; at 0.05 four are rejected, by Bonferroni three.
const published = [
  0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.324, 0.4262, 0.5719,
  0.6528, 0.759, 1,
];

describe("falseDiscoveryAdjusted", () => {
  it("rejects the four hypotheses of the published example, one more than Bonferroni", () => {
    const adjusted = falseDiscoveryAdjusted(published);
    expect([...adjusted].filter((value) => value <= 0.05).length).toBe(4);
    expect(published.filter((p) => p <= 0.05 / 15).length).toBe(3);
    // The fourth: 0.0095 × 15 / 4 by hand.
    expectClose(adjusted[3]!, 0.035625, { relative: 1e-12 });
  });

  it("does not depend on the order, never falls with p, and never exceeds one", () => {
    const shuffled = [7, 3, 12, 0, 14, 5, 9, 1, 11, 4, 13, 2, 8, 6, 10];
    const direct = falseDiscoveryAdjusted(published);
    const found = falseDiscoveryAdjusted(shuffled.map((i) => published[i]!));
    shuffled.forEach((i, at) => {
      expect(found[at]).toBe(direct[i]);
    });
    for (let i = 1; i < 15; i++) expect(direct[i]!).toBeGreaterThanOrEqual(direct[i - 1]!);
    expect(direct[14]).toBe(1);
  });

  it("leaves missing values missing and does not count them", () => {
    const found = falseDiscoveryAdjusted([0.01, Number.NaN, 0.04]);
    expect(found[1]).toBeNaN();
    expect(found[0]).toBe(0.02);
    expect(falseDiscoveryAdjusted([]).length).toBe(0);
  });

  it("refuses what is no probability", () => {
    expect(() => falseDiscoveryAdjusted([0.1, 1.2])).toThrow(
      "p[1] must be 0 to 1, or NaN, got 1.2",
    );
  });
});
