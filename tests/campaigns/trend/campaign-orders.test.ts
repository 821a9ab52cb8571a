import { describe, expect, it } from "vitest";
import { campaignOrders } from "../../../lib/campaigns/trend/campaign-orders.js";

describe("campaignOrders", () => {
  it("tries every order of five campaigns once, the given one first, and draws for eight", () => {
    const all = campaignOrders(5, { draws: 99, seed: 1 });
    expect(new Set(all.map(String)).size).toBe(120);
    expect(all[0]).toEqual([0, 1, 2, 3, 4]);
    const drawn = campaignOrders(8, { draws: 199, seed: 1 });
    expect(drawn.length).toBe(200);
    expect(drawn.every((order) => [...order].sort().join() === "0,1,2,3,4,5,6,7")).toBe(true);
  });
});
