import { planMapSpec } from "../../figures/plan/plan-map.js";
import type { Figure } from "../../step/figure.js";
import { positionAt } from "../../survey/bank/position.js";
import { stretchPath } from "../../survey/bank/stretch-path.js";
import type { Block, Blocks } from "../blocks.js";
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
        ...stretchPath(centreline, block),
        text: `${block.id} · ${block.class}`,
        group: block.class,
      })),
      ...blocks.slice(1).map((block) => ({
        ...stretchPath(centreline, intervalOf(block)),
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

function intervalOf({ fromInterval_m: [from_m, to_m] }: Block) {
  return { from_m, to_m };
}
