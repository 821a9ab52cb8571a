import { describe, expect, it } from "vitest";
import { segmentBlocks } from "../../../lib/blocks/segment-blocks.js";
import { expectDraws, expectValidSpec } from "../../figures/support/check-spec.js";
import { makeDepthSlices } from "../../support/depth-slices.js";

const three = (x: number) => (x < 200 ? 1.3 : x < 500 ? 1.9 : 1.5);

describe("the figure of the blocks", () => {
  it("is valid, draws without a warning, and marks each boundary with its interval", async () => {
    const given = makeDepthSlices({ truth: three, gaps_m: [[300, 330]] });
    const { figures, value } = segmentBlocks(given);
    const figure = figures[0]!;
    expectValidSpec(figure.spec);
    const svg = await expectDraws(figure.spec);
    for (const block of value.blocks.slice(1)) {
      const half = (block.fromInterval_m[1] - block.fromInterval_m[0]) / 2;
      expect(svg).toContain(`${block.from_m.toFixed(0)} ± ${half.toFixed(0)} m`);
    }
    expect(svg).toContain("set aside");
    expect(svg).toContain(figure.title);
  });

  it("draws a line of one block and a line in two, each with a title that says so", async () => {
    const one = segmentBlocks(makeDepthSlices()).figures[0]!;
    expect(one.title).toBe("One block: no boundary stands out from the scatter");
    await expectDraws(one.spec);
    const two = segmentBlocks(makeDepthSlices({ truth: (x) => (x < 301 ? 1.3 : 1.9) })).figures[0]!;
    expect(two.title).toMatch(/^Two blocks, parted at 301 ± \d m$/);
  });

  it("draws the path over prices, the classes by depth and the map", async () => {
    const truth = (x: number) => (x < 200 ? 1.5 : x < 500 ? 1.57 : 2.1);
    const { figures, value } = segmentBlocks(makeDepthSlices({ truth, texture: 0.03 }));
    const [, path, classes, map] = figures;
    const weakest = value.blocks[1]!.from_m.toFixed(0);
    expect(path!.title).toMatch(new RegExp(`boundary at ${weakest} m (would go first|hangs)`));
    expect(classes!.title).toBe("Two classes of ground, from A, the most conductive, to B");
    expect(map!.title).toBe("Three blocks of two classes along the crest");
    for (const figure of [path!, classes!, map!]) {
      expectValidSpec(figure.spec);
      const svg = await expectDraws(figure.spec);
      expect(svg).not.toContain("NaN");
    }
    const drawn = await expectDraws(map!.spec);
    for (const block of value.blocks.slice(1)) expect(drawn).toContain(block.from_m.toFixed(0));
  });

  it("draws most doubt at the boundary that its title calls the least certain", () => {
    const truth = (x: number) => (x < 200 ? 1.5 : x < 500 ? 1.6 : 2.1);
    const { figures, value } = segmentBlocks(makeDepthSlices({ truth }));
    const doubts = value.blocks.slice(1).map((block) => 1 - block.fromNearProbability!);
    const most = value.blocks[1 + doubts.indexOf(Math.max(...doubts))]!;
    expect(figures[0]!.title).toContain(`at ${most.from_m.toFixed(0)} m is the least certain`);
    const widths = value.blocks.slice(1).map((b) => b.fromInterval_m[1] - b.fromInterval_m[0]);
    expect(widths.indexOf(Math.max(...widths))).toBe(doubts.indexOf(Math.max(...doubts)));
  });
});
