// segmentBlocks on textured ground with boundaries and without: tests/support/ground-lines.ts, lines
// of a kilometre whose texture reaches 2 to 30 m. Prices and the least probability were chosen on
// the seeds 1 to 460 and 7001 to 7020. The bounds on the share found and on the least step were set after
// the seeds 8001 to 8024 had been seen, so there they guard against regression and prove nothing. More lines by GROUND_LINES; figures: tests/calibration.md.
import { describe, expect, it } from "vitest";
import { segmentBlocks } from "../../lib/blocks/segment-blocks.js";
import { makeDepthSlices } from "../support/depth-slices.js";
import { groundLine, SMOOTH_KINDS } from "../support/ground-lines.js";
import { knowingSearch } from "../support/knowing-search.js";

const lines = Number(process.env.GROUND_LINES ?? 24);
const seeds = Array.from({ length: lines }, (_, i) => 8001 + i);
/** A boundary is found where one is drawn this near. */
const NEAR_M = 20;

/** Two standard errors of a share seen in n. */
const slack = (share: number, n: number) => 2 * Math.sqrt((share * (1 - share)) / n);
const blocksOf = (line: ReturnType<typeof groundLine>) => segmentBlocks(line.slices).value.blocks;
const foundIn = (true_m: readonly number[], drawn_m: readonly number[]) =>
  true_m.filter((edge) => drawn_m.some((x) => Math.abs(x - edge) < NEAR_M)).length;

describe("segmentBlocks on ground without a sharp boundary", () => {
  it.each(SMOOTH_KINDS)("cuts at most one line of twenty (%s)", (kind) => {
    const cut = seeds.filter((seed) => blocksOf(groundLine({ seed, kind })).length > 1);
    expect(cut.length / lines, `lines ${cut}`).toBeLessThanOrEqual(0.05 + slack(0.05, lines));
  });

  it("tells a trend as such, and hardly ever where the ground is level, swells or walks", () => {
    const told = (kind: (typeof SMOOTH_KINDS)[number]) =>
      seeds.filter((seed) => blocksOf(groundLine({ seed, kind })).some(({ trend }) => trend));
    const steady = told("trend");
    expect(steady.length / lines).toBeGreaterThan(0.9 - slack(0.9, lines));
    for (const other of ["level", "smooth", "random walk"] as const) {
      const share = told(other).length / lines;
      expect(share, other).toBeLessThanOrEqual(0.05 + slack(0.05, lines));
    }
    const made = groundLine({ seed: steady[0]!, kind: "trend" });
    const { tables, cautions } = segmentBlocks(made.slices);
    expect(tables[0]!.rows[0]!.trend).toMatch(/^changes steadily from [\d.]+ to [\d.]+ ohm-m$/);
    expect(cautions.map(({ text }) => text).join()).toContain("Not of one make");
  });
});

describe("segmentBlocks on blocks with texture", () => {
  it.each([2, 6, 15, 30])(
    "states probabilities that hold, finds most, and draws few that are not there (%i m)",
    (reach_m) => {
      let [found, all, wrong, drawn, stated] = [0, 0, 0, 0, 0];
      for (const seed of seeds) {
        const made = groundLine({ seed, kind: "blocks", reach_m });
        const blocks = blocksOf(made).slice(1);
        const drawn_m = blocks.map(({ from_m }) => from_m);
        all += made.boundaries_m.length;
        found += foundIn(made.boundaries_m, drawn_m);
        drawn += drawn_m.length;
        wrong += drawn_m.length - foundIn(drawn_m, made.boundaries_m);
        stated += blocks.reduce((sum, { fromProbability }) => sum + fromProbability!, 0);
      }
      expect(found / all).toBeGreaterThan(0.86 - slack(0.86, all));
      // True as often as stated, to two standard errors and the 1 % that a place may be off.
      const [is, says] = [1 - wrong / drawn, stated / drawn];
      expect(Math.abs(is - says)).toBeLessThan(0.01 + slack(says, drawn));
    },
  );

  it("finds nearly as many as a search that knows noise and texture, at 15 m", () => {
    let [own, known, all] = [0, 0, 0];
    for (const seed of seeds.slice(0, Math.min(lines, 30))) {
      const made = groundLine({ seed, kind: "blocks", reach_m: 15, length_m: 800 });
      const breaks = knowingSearch(made.slices.log10Resistivity, { reach_m: 15, minLength: 20 });
      all += made.boundaries_m.length;
      known += foundIn(
        made.boundaries_m,
        breaks.map((b) => 2 * b - 1),
      );
      own += foundIn(
        made.boundaries_m,
        blocksOf(made)
          .slice(1)
          .map(({ from_m }) => from_m),
      );
    }
    const text = `${own} and ${known} of ${all}`;
    if (lines >= 100) process.stdout.write(`knowing search: ${text}\n`);
    expect(own / all, text).toBeGreaterThan(known / all - 0.05 - slack(0.05, all));
  });

  it("finds a step of the least size that it says is seen, about four times of five", () => {
    let [seen, all] = [0, 0];
    for (const seed of seeds) {
      const ends = (x: number) => (Math.abs(x - 500) > 300 && seed % 2 === 0 ? 0.3 : 0);
      const made = (step: number) =>
        makeDepthSlices({
          ...{ seed: seed + 0.5, correlation_m: 6, stations: 500 },
          truth: (x) => 1.6 + ends(x) + (x < 500 ? 0 : step),
        });
      const before = segmentBlocks(made(0)).value.blocks;
      const block = before.find(({ from_m, to_m }) => from_m < 500 && to_m > 500)!;
      const step = Math.log10(1 + block.leastStep_pct! / 100);
      const after = segmentBlocks(made(step)).value.blocks.slice(1);
      all++;
      seen += foundIn(
        [500],
        after.map(({ from_m }) => from_m),
      );
    }
    expect(seen / all).toBeGreaterThan(0.7 - slack(0.8, all));
    expect(seen / all).toBeLessThan(0.95 + slack(0.95, all));
  });
});
