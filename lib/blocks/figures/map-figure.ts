import { type PlanStretch, planMapSpec } from "../../figures/plan/plan-map.js";
import type { Figure } from "../../step/figure.js";
import { positionAt } from "../../survey/bank/position.js";
import type { Centreline } from "../../survey/survey.js";
import type { Blocks } from "../blocks.js";
import { countWord } from "../count-word.js";
import { intervalWidth } from "../least-certain.js";

/** The blocks on the plan, coloured by class, each boundary with the ground that it may lie in. */
export function blocksMap({ blocks, campaign, centreline }: Blocks): Figure {
  const classes = new Set(blocks.map((block) => block.class)).size;
  const title =
    `${countWord(blocks.length)} ${blocks.length === 1 ? "block" : "blocks"} of ` +
    `${countWord(classes).toLowerCase()} ${classes === 1 ? "class" : "classes"} along the crest`;
  const spec = planMapSpec({
    title,
    subtitle: `Campaign ${campaign}; like letters are like ground, A the most conductive`,
    epsg: centreline.epsg,
    lines: [
      { name: "centreline", easting_m: centreline.easting_m, northing_m: centreline.northing_m },
    ],
    stretches: [
      ...blocks.map((block) => ({
        ...stretchOf(centreline, [block.from_m, block.to_m]),
        text: `${block.id} · ${block.class}`,
        group: block.class,
      })),
      ...blocks.slice(1).map((block) => ({
        ...stretchOf(centreline, block.fromInterval_m),
        text: `boundary within ${block.fromInterval_m.map((x) => x.toFixed(0)).join("–")} m`,
        group: BOUNDARY,
      })),
    ],
    ticks: blocks.slice(1).map((block) => ({
      ...positionAt(centreline, block.from_m),
      text: `${block.from_m.toFixed(0)} ± ${(intervalWidth(block) / 2).toFixed(0)}`,
    })),
    legend: "Class",
    colours: { [BOUNDARY]: "#222426" },
  });
  return {
    id: `blocks-map-${campaign}`,
    title,
    caption:
      "Plan, grid north up, the same scale east and north. The crest is coloured by class; dark " +
      "pieces are the 90 % intervals of the boundaries, whose chainages stand beside them (m).",
    spec,
  };
}

const BOUNDARY = "boundary, 90 %";

/** The centreline between two chainages, with its bends. */
function stretchOf(
  centreline: Centreline,
  [from_m, to_m]: readonly [number, number],
): Pick<PlanStretch, "easting_m" | "northing_m"> {
  const bends = Array.from(centreline.chainage_m).filter((x) => x > from_m && x < to_m);
  const points = [from_m, ...bends, to_m].map((x) => positionAt(centreline, x));
  return {
    easting_m: points.map((point) => point.easting_m),
    northing_m: points.map((point) => point.northing_m),
  };
}
