import { curveSpec } from "../../figures/curve/curve.js";
import type { Figure } from "../../step/figure.js";
import type { Blocks } from "../blocks.js";
import { countWord } from "../count-word.js";
import { blocksByClass } from "./blocks-by-class.js";

/** Share of a slice over which the points of its classes stand side by side. */
const SPREAD = 0.4;

/** Resistivity by depth of each class: a line through its blocks' medians, with their spread. */
export function classFigure({ blocks, campaign }: Blocks): Figure {
  const classes = blocksByClass(blocks);
  const title = classTitle(classes.map(({ name }) => name));
  const deepest_m = Math.max(...classes.flatMap(({ slices }) => slices.map((one) => one.base_m)));
  const spec = curveSpec({
    title,
    subtitle: `Campaign ${campaign}; at field temperature, over the reliable depth`,
    columns: 1,
    x: { label: "Depth below the crest (m)", scale: "linear", domain: [0, deepest_m] },
    y: { label: "Resistivity (ohm-m)", scale: "log" },
    plots: [
      {
        label: "",
        series: classes.flatMap(({ name, slices }, i) => {
          const aside = SPREAD * ((i + 0.5) / classes.length - 0.5);
          const x = slices.map(
            ({ top_m, base_m }) => (top_m + base_m) / 2 + aside * (base_m - top_m),
          );
          const y = slices.map(({ median }) => median);
          const [lo, hi] = [slices.map(({ p10 }) => p10), slices.map(({ p90 }) => p90)];
          return [
            { name, form: "line" as const, x, y },
            { name, form: "points" as const, x, y, lo, hi },
          ];
        }),
      },
    ],
    legend: "Class",
  });
  return {
    id: `block-classes-${campaign}`,
    title,
    caption:
      "Points are the median resistivity of each class in each depth slice, side by side about " +
      "the slice's middle; bars reach from the 10 % to the 90 % points of its stations. Classes whose bars " +
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
