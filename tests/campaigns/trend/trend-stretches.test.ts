import { describe, expect, it } from "vitest";
import { stationPoint } from "../../../lib/campaigns/trend/trend-stretches.js";

describe("stationPoint", () => {
  it("is the point of Kendall's table at 5 %", () => {
    // Kendall 1975, table 1, two-sided 5 %: n = 5: 10 (1.7 %); n = 6: 13 (1.7 %); n = 8: 18
    // (3.1 %).
    expect([5, 6, 8].map(stationPoint)).toEqual([10, 13, 18]);
  });
});
