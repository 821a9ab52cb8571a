import { describe, expect, it } from "vitest";
import { describeBlocks } from "../../lib/blocks/describe-blocks.js";
import { segmentBlocksDefaults } from "../../lib/blocks/options.js";
import { segmentBlocks } from "../../lib/blocks/segment-blocks.js";
import type { DepthSlices } from "../../lib/depth/depth-slices.js";
import { makeDepthSlices, reversedSlices } from "../support/depth-slices.js";
import { expectClose } from "../support/expect-close.js";
import { expectFault } from "../support/expect-fault.js";
import { stepped, steps } from "../support/stepped-line.js";

describe("segmentBlocks", () => {
  it("covers the line from end to end, with intervals that meet at the boundaries", () => {
    const { blocks } = segmentBlocks(stepped(3)).value;
    expect(blocks[0]!.from_m).toBe(0);
    expect(blocks.at(-1)!.to_m).toBe(798);
    expect(blocks[0]!.fromInterval_m).toEqual([0, 0]);
    expect(blocks.at(-1)!.toInterval_m).toEqual([798, 798]);
    for (let b = 1; b < blocks.length; b++) {
      expect(blocks[b]!.from_m).toBe(blocks[b - 1]!.to_m);
      expect(blocks[b]!.fromInterval_m).toEqual(blocks[b - 1]!.toInterval_m);
    }
  });

  it("cuts at joints of some metres, as makes of a bank meet", () => {
    // From 25 to 100 ohm-m and back, over 16 m each.
    const ramp = (x: number, at: number) => Math.min(1, Math.max(0, (x - at) / 16 + 0.5));
    const truth = (x: number) => 1.4 + 0.6 * (ramp(x, 401) - ramp(x, 701));
    for (const seed of [1, 2, 3]) {
      const given = makeDepthSlices({ seed, truth, stations: 500, texture: 0.03 });
      const { blocks } = segmentBlocks(given).value;
      expect(blocks.map((block) => block.class)).toEqual(["A", "B", "A"]);
      for (const [b, joint] of [401, 701].entries()) {
        expectClose(blocks[b + 1]!.from_m, joint, { absolute: 5 });
        expect(blocks[b + 1]!.fromProbability).toBeGreaterThan(0.9);
      }
    }
  });

  it("tells a steady change only where most of the block follows it", () => {
    const noise = { variance: [1e-4], scatter: [1e-4], effectiveColumns: 1 };
    const stretches = [{ rise: [-0.7], leastStep: 0.1 }];
    const trendOf = (truth: (x: number) => number) => {
      const given = makeDepthSlices({ truth, edges_m: [0, 2], texture: 0.02 });
      return describeBlocks(given, [], { noise, classDistance: 0.1, stretches })[0]!.trend;
    };
    expect(trendOf((x) => 2 - (0.7 * x) / 800)).toHaveLength(1);
    // Even ground with a body of 40 m at the end, through which a slope was fitted.
    expect(trendOf((x) => (x < 760 ? 2 : 1.3))).toBeUndefined();
  });

  it("gives like blocks one letter, ordered from conductive to resistive", () => {
    const { blocks } = segmentBlocks(stepped(6)).value;
    expect(blocks.map((block) => block.class)).toEqual(["A", "C", "B", "D", "B"]);
    const apart = segmentBlocks(stepped(6), { classDistance: 0 }).value.blocks;
    expect(new Set(apart.map((block) => block.class)).size).toBe(5);
    const one = segmentBlocks(stepped(6), { classDistance: 3 }).value.blocks;
    expect(new Set(one.map((block) => block.class))).toEqual(new Set(["A"]));
  });

  it("states the resistivity of each block by slice", () => {
    const truth = (x: number, k: number) => (x < 400 ? 1.3 : 1.8) + 0.1 * k;
    const { blocks } = segmentBlocks(makeDepthSlices({ truth, texture: 0.02 })).value;
    const [one, other] = [blocks[0]!.resistivity_ohm_m, blocks[1]!.resistivity_ohm_m];
    // Medians of 200 stations with a scatter of 0.028 decades: 5 % is over 5 standard errors.
    [1.3, 1.4, 1.5].forEach((level, k) => {
      expectClose(one[k]!.median, 10 ** level, { relative: 0.05 });
    });
    expectClose(other[2]!.median, 100, { relative: 0.05 });
    expect(one.map(({ top_m, base_m }) => [top_m, base_m])).toEqual([
      [0, 1],
      [1, 2.5],
      [2.5, 5],
    ]);
    // ± 1.28 standard deviations of the scatter, sqrt(0.02² + 0.02²) decades.
    expectClose(Math.log10(one[0]!.p90 / one[0]!.p10), 2.56 * 0.0283, { relative: 0.25 });
  });

  it("gives a boundary in a gap an interval over it, and counts the gap in the blocks", () => {
    const given = makeDepthSlices({ truth: steps([400], [1.4, 1.9]), gaps_m: [[360, 430]] });
    const { blocks } = segmentBlocks(given).value;
    expect(blocks.length).toBe(2);
    expect(blocks[1]!.from_m).toBe((358 + 432) / 2);
    expect(blocks[1]!.fromInterval_m[0]).toBeLessThanOrEqual(358);
    expect(blocks[1]!.fromInterval_m[1]).toBeGreaterThanOrEqual(432);
    // 36 stations of 400 are in the gap, all counted to the block before or the block after.
    expect(blocks[0]!.stations + blocks[1]!.stations).toBe(364);
    const masked = blocks.map(
      (block) => (block.masked_pct * block.stations) / (100 - block.masked_pct),
    );
    expectClose(masked[0]! + masked[1]!, 36, { relative: 1e-9 });
  });

  it("gives the same blocks in another unit, walked backwards, and further along", () => {
    const given = stepped(8);
    const { blocks } = segmentBlocks(given).value;
    const scaled = {
      ...given,
      log10Resistivity: given.log10Resistivity.map((c) => c.map((v) => v + 3)),
    };
    expect(ends(segmentBlocks(scaled).value.blocks)).toEqual(ends(blocks));
    const shifted = { ...given, chainage_m: given.chainage_m.map((x) => x + 1200) };
    expect(ends(segmentBlocks(shifted).value.blocks)).toEqual(ends(blocks).map((x) => x + 1200));
    const back = segmentBlocks(reversedSlices(given)).value.blocks;
    expect(
      ends(back)
        .map((x) => 798 - x)
        .reverse(),
    ).toEqual(ends(blocks));
    expect(back.map((block) => block.class).reverse()).toEqual(blocks.map((block) => block.class));
    expect(
      [...back].reverse().map((block) => block.toInterval_m.map((x) => 798 - x).reverse()),
    ).toEqual(blocks.map((block) => [...block.fromInterval_m]));
  });

  it("keeps to the minimum length and to a penalty that is given", () => {
    const given = stepped(4);
    const many = segmentBlocks(given, { penalty: 0, minLength_m: 60 }).value.blocks;
    expect(many.length).toBeGreaterThan(5);
    for (const block of many) expect(block.to_m - block.from_m).toBeGreaterThanOrEqual(58);
    const none = segmentBlocks(given, { penalty: 1e9 });
    expect(none.value.blocks.length).toBe(1);
    expect(none.value.penalty).toBe(1e9);
    expect(none.figures[0]!.title).toBe("One block: no boundary stands out from the scatter");
  });

  it("parts an even stretch from an uneven one of the same mean where spread may change", () => {
    const even = makeDepthSlices({ seed: 3, texture: 0.02, sd: 0.01 });
    const uneven = makeDepthSlices({ seed: 4, texture: 0.09, sd: 0.01 });
    const log10Resistivity = even.log10Resistivity.map((column, k) =>
      column.map((value, i) => (i < 220 ? value : uneven.log10Resistivity[k]![i]!)),
    );
    const given = { ...even, log10Resistivity };
    const { blocks } = segmentBlocks(given, { change: "mean and spread" }).value;
    expect(blocks.length).toBe(2);
    expectClose(blocks[1]!.from_m, 439, { absolute: 12 });
    expect(blocks[1]!.heterogeneity! / blocks[0]!.heterogeneity!).toBeGreaterThan(2.5);
    // Where only the mean may change, there is no boundary in it.
    expect(segmentBlocks(given).value.blocks.length).toBe(1);
  });

  it("lets a station count for less where its estimate is less certain", () => {
    const given = makeDepthSlices({ seed: 2, texture: 0.02, sd: 0.02 });
    const raised = (at: number) => at >= 200 && at < 230;
    const bump = {
      ...given,
      log10Resistivity: given.log10Resistivity.map((column) =>
        column.map((value, i) => (raised(i) ? value + 0.3 : value)),
      ),
    };
    expect(segmentBlocks(bump).value.blocks.length).toBe(3);
    const doubtful = { ...bump, sd: bump.sd.map((c) => c.map((v, i) => (raised(i) ? 0.6 : v))) };
    expect(segmentBlocks(doubtful).value.blocks.length).toBe(1);
  });

  it("says how sure each boundary is, and how many there may be", () => {
    const clear = segmentBlocks(stepped(3)).value;
    for (const block of clear.blocks) {
      expect(block.fromProbability).toBeGreaterThan(0.95);
      expect(block.fromNearProbability).toBeGreaterThan(0.9);
    }
    const { numberProbability, probability } = clear.posterior!;
    expectClose(
      numberProbability.reduce((sum, value) => sum + value, 0),
      1,
      { absolute: 1e-9 },
    );
    expect(numberProbability.indexOf(Math.max(...numberProbability))).toBe(4);
    expect(probability.length).toBe(400);
    const weak = stepped(3, { truth: steps([400], [1.5, 1.55]) });
    const { blocks } = segmentBlocks(weak, { penalty: 4 }).value;
    expect(Math.min(...blocks.slice(1).map((block) => block.fromProbability!))).toBeLessThan(0.9);
  });

  it("gives the best cuts at other prices, the one used among them", () => {
    for (const penalty of ["mbic", 30] as const) {
      const { path, blocks } = segmentBlocks(stepped(7), { penalty }).value;
      const used = path!.find(({ price }) => price[0] <= 1 && 1 < price[1])!;
      expect(used.boundaries_m).toEqual(blocks.slice(1).map((block) => block.from_m));
      expect(path!.at(-1)!.boundaries_m).toEqual([]);
      path!.slice(1).forEach((step, i) => {
        expect(step.price[0]).toBe(path![i]!.price[1]);
      });
    }
    expect(segmentBlocks(stepped(7), { penalty: 0 }).value.path).toEqual([]);
  });

  it("says what boreholes met in each class, for the reliable depth only", () => {
    const hole = (borehole: string, chainage_m: number, soils: readonly string[]) => ({
      borehole,
      chainage_m,
      offset_m: 0,
      elevation_m: 5,
      depth_m: 8,
      strata: soils.map((soil, i) => ({
        top_m: 2 * i,
        base_m: 2 * i + 2,
        soil,
        description: "",
      })),
      laboratory: [],
    });
    const boreholes = [hole("BH1", 60, ["siCl", "siCl", "Sa"]), hole("BH2", 700, ["Sa", "clSi"])];
    const { tables, value, used } = segmentBlocks(stepped(6), { boreholes });
    const table = tables[1]!;
    expect(table.rows.map((row) => row.boreholes)).toEqual(["BH1", "BH2", "none", "none"].sort());
    // Reliable to 5 m: 4 m of siCl and 1 m of Sa.
    const first = table.rows.find((row) => row.boreholes === "BH1")!;
    expect(first.strata).toBe("siCl 80 %, Sa 20 %");
    expect(first.class).toBe(value.blocks[0]!.class);
    expect(used.boreholes).toEqual(["BH1", "BH2"]);
  });

  it("uses reliable slices only, and says so", () => {
    const truth = (x: number, k: number) => (k === 2 && x > 400 ? 2.5 : 1.6);
    const result = segmentBlocks(makeDepthSlices({ truth, reliable: 2 }));
    expect(result.value.blocks.length).toBe(1);
    expect(result.value.blocks[0]!.resistivity_ohm_m.length).toBe(2);
    expect(result.cautions.map(({ text }) => text)).toContain(
      "Slices that are not reliable were not used.",
    );
  });

  it("cuts by differences along the line where no slice is reliable by itself, and says so", () => {
    const truth = steps([300], [1.5, 1.8]);
    const unreliable = segmentBlocks(makeDepthSlices({ reliable: 0, truth }));
    expect(unreliable.value.blocks).toHaveLength(2);
    const texts = unreliable.cautions.map(({ text }) => text).join("\n");
    expect(texts).toMatch(/No slice is reliable by itself/);
  });

  it("gives no blocks, with a caution, where no station has an estimate", () => {
    const empty = segmentBlocks(makeDepthSlices({ gaps_m: [[0, 1e4]] }));
    expect(empty.value.blocks).toEqual([]);
    expect(empty.cautions[0]!.text).toMatch(/no station has an estimate/);
  });

  it("takes a line of one station and one without scatter", () => {
    expect(segmentBlocks(makeDepthSlices({ stations: 1 })).value.blocks.length).toBe(1);
    const clean = makeDepthSlices({ truth: steps([300], [1.5, 1.6]), texture: 0, sd: 0 });
    expect(segmentBlocks(clean).value.blocks.map((block) => block.to_m)).toEqual([299, 798]);
  });

  it("accounts for itself: options, sources, a figure whose title is the finding, a table", () => {
    const result = segmentBlocks(stepped(2), { minLength_m: 30 });
    expect(result.used).toEqual({ ...segmentBlocksDefaults, minLength_m: 30 });
    expect(result.summary).toMatch(
      /^The line of campaign 2031-10 was cut into 5 blocks of 4 classes\./,
    );
    expect(result.figures[0]!.title).toMatch(
      /^Five blocks; the boundary at \d+ m is the least certain$/,
    );
    expect(result.tables[0]!.rows.length).toBe(5);
    expect(result.basis.every(({ source }) => source.length > 0)).toBe(true);
    expect(result.cautions[0]!.text).toMatch(/not what soil/);
    expect(
      segmentBlocks(result.value.blocks.length > 0 ? stepped(2) : stepped(3)).accounting,
    ).toBeNull();
  });

  it("names wide gaps and few stations", () => {
    const gaps_m = [[420, 520]] as const;
    const given = makeDepthSlices({ truth: steps([400, 540], [1.4, 1.9, 1.4]), gaps_m });
    const texts = segmentBlocks(given)
      .cautions.map(({ text }) => text)
      .join(" ");
    expect(texts).toMatch(/More than 30 % of the length has no estimate/);
    expect(texts).toMatch(/Few stations \(under 20\)/);
  });

  it("changes nothing that it was given", () => {
    const given = stepped(6);
    const before = structuredClone({ ...given });
    segmentBlocks(given, Object.freeze({ minLength_m: 50 }));
    expect(given).toEqual(before);
  });

  it.each<[Partial<DepthSlices>, object, string]>([
    [
      {},
      { penalty: -1 },
      'option-range options.penalty must be a number at least 0, or "mbic", got -1',
    ],
    [
      {},
      { penalty: Number.NaN },
      'option-range options.penalty must be a number at least 0, or "mbic", got NaN',
    ],
    [{}, { minLength_m: 0 }, "option-range options.minLength_m must be a number above 0 m, got 0"],
    [
      {},
      { classDistance: -0.1 },
      "option-range options.classDistance must be a number at least 0 decades, got -0.1",
    ],
    [
      {},
      { change: "spread" },
      'option-value options.change must be one of "mean", "mean and spread", got "spread"',
    ],
    [
      {},
      { noise: 0.1 },
      'option-value options.noise must be one of "correlated", "independent", got 0.1',
    ],
    [
      {},
      { boreholes: null },
      "option-value options.boreholes must be a list of boreholes, got null",
    ],
    [{ spacing_m: 0 }, {}, "spacing slices.spacing_m must be above 0, got 0"],
    [
      { chainage_m: Float64Array.of(0, 2, 5) },
      {},
      "spacing slices.chainage_m[2] must be rising from station to station by spacing_m (2 m), " +
        "got 5",
    ],
    [{ sd: [] }, {}, "length slices.sd must be 3 long, got 0"],
    [{ gap: [""] }, {}, "length slices.gap must be 3 long, got 1"],
    [
      { log10Resistivity: [0, 1, 2].map(() => Float64Array.of(1, Infinity, 1)) },
      {},
      "value slices.log10Resistivity[0][1] must be a finite number, or NaN where there is " +
        "no estimate, " +
        "got Infinity (1 such values)",
    ],
    [
      { sd: [0, 1, 2].map(() => Float64Array.of(1, 1, -0.5)) },
      {},
      "value slices.sd[0][2] must be at least 0, got -0.5 (1 such values)",
    ],
  ])("refuses %j with %j", (change, options, text) => {
    const call = () => segmentBlocks({ ...makeDepthSlices({ stations: 3 }), ...change }, options);
    expectFault(call, text);
  });
});

const ends = (blocks: readonly { readonly from_m: number; readonly to_m: number }[]) => [
  blocks[0]!.from_m,
  ...blocks.map((block) => block.to_m),
];
