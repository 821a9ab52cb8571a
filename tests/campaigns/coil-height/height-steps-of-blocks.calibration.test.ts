import { describe, expect, it } from "vitest";
import { heightStepsOfBlocks } from "../../../lib/campaigns/coil-height/height-steps-of-blocks.js";
import { carriedCoils } from "../../../lib/chain/links/carried-coils.js";
import { gatherStations } from "../../../lib/depth/data/gather-stations.js";
import type { DepthSlices } from "../../../lib/depth/depth-slices.js";
import { median } from "../../../lib/numerics/statistics/robust.js";
import { campaignsOf, type InstrumentKind, makeErrors, makeSurvey } from "../../abroad/index.js";
import { chance } from "../../abroad/random.js";
import { makeDepthSlices } from "../../support/depth-slices.js";
import { expectClose } from "../../support/expect-close.js";

const TOPS_M = Float64Array.from({ length: 16 }, (_, j) => 0.25 * j * (1 + j / 10));
const LENGTH_M = 400;

/**
 * A walk over ground of blocks, its last or first third with coils so much higher than stated, as
 * slices of the true layers: none is estimated here.
 */
function walk(seed: number, higher_m: number, instrument: InstrumentKind) {
  const field = makeErrors("field");
  const errors = { ...field, height: { ...field.height, second_m: higher_m, share: 1 / 3 } };
  const made = makeSurvey({ seed, ground: "blocks", instrument, errors, length_m: LENGTH_M });
  const { chainage_m, height_m, channels } = gatherStations(campaignsOf(made)[0]!, 2);
  const rows = [...chainage_m].map((x) =>
    [...TOPS_M].map((top_m, j) =>
      made.truth.meanLog10({ chainage_m: x }, top_m, TOPS_M[j + 1] ?? top_m + 5),
    ),
  );
  const none = new Float64Array(chainage_m.length * TOPS_M.length);
  const layers = { top_m: TOPS_M, log10Resistivity: Float64Array.from(rows.flat()) };
  const slices: DepthSlices = {
    ...makeDepthSlices({}),
    ...{ chainage_m, spacing_m: 2, height_m, readings: channels },
    layers: { ...layers, sd: none, learned: none },
  };
  const level = (x: number) => made.truth.meanLog10({ chainage_m: x }, 0, 3);
  // Boundaries that a cut would find: the ground differs by a fourth.
  const truth_m = made.truth.boundaries_m.filter(
    (x) => Math.abs(level(x + 15) - level(x - 15)) > 0.1,
  );
  const isFirst = chance(seed, "operator/0").uniform() < 0.5;
  return { slices, truth_m, hand: isFirst ? 1 / 3 : 2 / 3, rise_m: isFirst ? -higher_m : higher_m };
}

const blocksAt = (places_m: readonly number[]) => {
  const ends = [0, ...places_m.toSorted((a, b) => a - b), LENGTH_M];
  return ends.slice(1).map((to_m, b) => ({ from_m: ends[b]!, to_m }));
};

const SEEDS = Array.from({ length: 12 }, (_, i) => 7301 + i);

describe("boundaries that coils carried at another height explain", () => {
  it("are few of those where the ground changes", () => {
    const kinds: InstrumentKind[] = ["three separations HCP+PRP", "five frequencies HCP"];
    const all = kinds.flatMap((kind) => SEEDS.map((seed) => walk(seed, 0, kind)));
    const found = all.flatMap(({ slices, truth_m }) =>
      heightStepsOfBlocks(slices, blocksAt(truth_m)),
    );
    const boundaries = all.reduce((sum, { truth_m }) => sum + truth_m.length, 0);
    expect(boundaries).toBeGreaterThan(30);
    expect(found.length).toBeLessThanOrEqual(0.1 * boundaries);
  }, 120_000);

  it("are most of those where a second person took over, by about the height that differs", () => {
    const judged = SEEDS.flatMap((seed, i) => {
      const made = walk(seed, i % 2 === 0 ? 0.25 : -0.2, "three separations HCP+PRP");
      const at_m = made.hand * LENGTH_M;
      const others = made.truth_m.filter((x) => Math.abs(x - at_m) > 30);
      if (others.length < made.truth_m.length) return [];
      const steps = heightStepsOfBlocks(made.slices, blocksAt([...others, at_m]));
      const found = steps.find((step) => step.at_m === at_m);
      return [found === undefined ? Number.NaN : found.height_m / made.rise_m];
    });
    const found = judged.filter((ratio) => !Number.isNaN(ratio));
    expect(judged.length).toBeGreaterThanOrEqual(6);
    expect(found.length).toBeGreaterThanOrEqual(0.75 * judged.length);
    expectClose(median(found), 1, { absolute: 0.25 });
  }, 120_000);

  it("are said in a sentence with their place, height and what settles it", () => {
    const told = SEEDS.slice(0, 6).flatMap((seed) => {
      const { slices, hand } = walk(seed, 0.25, "three separations HCP+PRP");
      const blocks = blocksAt([hand * LENGTH_M]);
      return carriedCoils(slices, { blocks });
    });
    expect(told.length).toBeGreaterThan(0);
    expect(told[0]).toMatch(
      /^Coils carried at another height would explain the boundary at (133|267) m \(0\.[123]\d m (higher|lower) from there on\) better than other ground/,
    );
  }, 120_000);

  it("are none without a boundary, with one channel, or without readings", () => {
    const { slices } = walk(7301, 0.25, "three separations HCP+PRP");
    const blocks = blocksAt([LENGTH_M / 2]);
    expect(heightStepsOfBlocks(slices, blocksAt([]))).toEqual([]);
    const one = { ...slices, readings: slices.readings!.slice(0, 1) };
    expect(heightStepsOfBlocks(one, blocks)).toEqual([]);
    expect(heightStepsOfBlocks({ ...slices, readings: [] }, blocks)).toEqual([]);
  });
});
