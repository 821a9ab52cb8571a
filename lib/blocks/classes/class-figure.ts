import { curveSpec } from "../../figures/curve/curve.js";
import type { Figure } from "../../step/figure.js";
import type { Block, Blocks } from "../blocks.js";
import { countWord } from "../count-word.js";

/** Resistivity by depth of each class: a line through its blocks' medians, with their spread. */
export function classFigure({ blocks, campaign }: Blocks): Figure {
  const classes = classesOf(blocks);
  const title = classTitle(classes.map(({ name }) => name));
  const spec = curveSpec({
    title,
    subtitle: `Campaign ${campaign}; at field temperature, over the reliable depth`,
    columns: 1,
    x: { label: "Depth below the crest (m)", scale: "linear", withZero: true },
    y: { label: "Resistivity (ohm-m)", scale: "log" },
    plots: [
      {
        label: "",
        series: classes.flatMap(({ name, x, y, lo, hi }) => [
          { name, form: "line" as const, x, y },
          { name, form: "points" as const, x, y, lo, hi },
        ]),
      },
    ],
    legend: "Class",
  });
  return {
    id: `block-classes-${campaign}`,
    title,
    caption:
      "Points are the median resistivity of each class in each depth slice, at the slice's " +
      "middle; bars reach from the 10 % to the 90 % points of its stations. Classes whose bars " +
      "overlap in every slice are told apart by many stations, not by each. A class is no soil.",
    spec,
  };
}

function classTitle(names: readonly string[]): string {
  if (names.length === 1) return "One class of ground: no block differs from the others";
  return (
    `${countWord(names.length)} classes of ground, from ${names[0]}, the most conductive, to ` +
    `${names.at(-1)}`
  );
}

interface ClassSignature {
  readonly name: string;
  readonly x: number[];
  readonly y: number[];
  readonly lo: number[];
  readonly hi: number[];
}

function classesOf(blocks: readonly Block[]): ClassSignature[] {
  const names = [...new Set(blocks.map((block) => block.class))].sort(byLetters);
  return names.map((name) => {
    const own = blocks.filter((block) => block.class === name);
    const slices = own[0]!.resistivity_ohm_m;
    const over = (value: (block: Block, k: number) => number) =>
      slices.map((_, k) => weightedLogMean(own, (block) => value(block, k)));
    return {
      name,
      x: slices.map(({ top_m, base_m }) => (top_m + base_m) / 2),
      y: over((block, k) => block.resistivity_ohm_m[k]!.median),
      lo: over((block, k) => block.resistivity_ohm_m[k]!.p10),
      hi: over((block, k) => block.resistivity_ohm_m[k]!.p90),
    };
  });
}

/** "A" … "Z" before "AA". */
export const byLetters = (one: string, other: string) =>
  one.length - other.length || (one < other ? -1 : one > other ? 1 : 0);

/** The log-mean over blocks, each counting for its stations; NaN is left out. */
export function weightedLogMean(blocks: readonly Block[], value: (block: Block) => number): number {
  let sum = 0;
  let weights = 0;
  for (const block of blocks) {
    const log = Math.log(value(block));
    if (Number.isNaN(log)) continue;
    sum += block.stations * log;
    weights += block.stations;
  }
  return Math.exp(sum / weights);
}
