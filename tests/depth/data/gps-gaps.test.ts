import { describe, expect, it } from "vitest";
import { gpsGaps } from "../../../lib/depth/data/gps-gaps.js";
import { campaignOf, channelOf } from "../../support/campaign.js";

const none = Number.NaN;

function walk(chainage_m: readonly number[], more: { bridged?: number[]; line?: string[] } = {}) {
  const values = [chainage_m.map(() => 100)];
  const { line } = more;
  const sketch = { channels: [channelOf()], values, chainage_m, ...(line && { line }) };
  const campaign = campaignOf({ passes: [sketch] });
  if (more.bridged === undefined) return campaign;
  const positionBridged = Uint8Array.from(more.bridged);
  return { ...campaign, passes: campaign.passes.map((pass) => ({ ...pass, positionBridged })) };
}

describe("gpsGaps", () => {
  it("finds what was bridged and what was left without a position, between positions", () => {
    const campaign = walk([none, 0, 2, 4, 6, 8, none, none, 20, 22, none], {
      bridged: [0, 0, 0, 1, 1, 0, 0, 0, 0, 0, 0],
    });
    expect(gpsGaps(campaign, 2)).toEqual([
      { resource: "walk", from_m: 2, to_m: 8, bridged: true },
      { resource: "walk", from_m: 8, to_m: 20, bridged: false },
    ]);
  });

  it("is told the same by a walk the other way", () => {
    expect(gpsGaps(walk([20, none, 8, 6]), 2)).toEqual([
      { resource: "walk", from_m: 8, to_m: 20, bridged: false },
    ]);
  });

  it("leaves out what lies between two lines and what is shorter than asked for", () => {
    expect(gpsGaps(walk([0, none, 40], { line: ["a", "b", "b"] }), 2)).toEqual([]);
    expect(gpsGaps(walk([0, none, 1.5]), 2)).toEqual([]);
    expect(gpsGaps(walk([0, 2, 4]), 2)).toEqual([]);
  });
});
