import { classColoursOf } from "../../blocks/classes/class-colours.js";
import { type PlanPoint, planMapSpec } from "../../figures/plan/plan-map.js";
import type { Figure } from "../../step/figure.js";
import { countText } from "../../step/show/html.js";
import { positionAt } from "../../survey/bank/position.js";
import { stretchPath } from "../../survey/bank/stretch-path.js";
import type { Centreline } from "../../survey/survey.js";
import type { Findings } from "../findings.js";
import { isUnexplained, ofMainLine, placesOf } from "./places.js";

/** What the strip of the bank shows, on the plan: classes as colours, the rest as points. */
export function overviewMap(findings: Findings, centreline: Centreline): Figure {
  const blocks = ofMainLine(findings.blocks);
  const places = points(findings, centreline);
  const title = `${findings.survey.embankment} in plan: ${titleCounts(findings)}`;
  const { easting_m, northing_m } = centreline;
  return {
    id: "bank-map",
    leads: true,
    title,
    caption:
      "Plan, grid north up, the same scale east and north. The crest is coloured by class as in " +
      "the strip above. A stretch is marked at its middle; names stand where there is room.",
    spec: planMapSpec({
      title,
      epsg: centreline.epsg,
      lines: [{ name: "centreline", easting_m, northing_m }],
      stretches: blocks.map((block) => ({
        ...stretchPath(centreline, block),
        text: `${block.id} · ${block.class}`,
        group: block.class,
      })),
      points: places,
      legend: "Class of ground",
      colours: classColoursOf(blocks),
    }),
  };
}

function titleCounts({ changes, seepage, boreholes }: Findings): string {
  const counts = [
    [changes, "changed stretch", "changed stretches"],
    [seepage, "seepage zone", "seepage zones"],
    [boreholes, "proposed borehole", "proposed boreholes"],
  ] as const;
  const present = counts.filter(([list]) => list.length > 0);
  if (present.length === 0) return "its blocks";
  return present.map(([list, one, many]) => countText(list.length, one, many)).join(", ");
}

function points(findings: Findings, centreline: Centreline): readonly PlanPoint[] {
  const middle = ({ from_m, to_m }: { from_m: number; to_m: number }) =>
    positionAt(centreline, (from_m + to_m) / 2);
  return [
    ...findings.seepage.map((zone) => ({
      ...middle(zone),
      name: `zone ${zone.rank}`,
      kind: "evidence for seepage",
    })),
    ...ofMainLine(findings.changes).map((change) => ({
      ...middle(change),
      name: change.direction,
      kind: "change between campaigns",
    })),
    ...placesOf(ofMainLine(findings.setAside))
      .filter(isUnexplained)
      .map((place) => ({ ...middle(place), name: "look", kind: "metal that no note explains" })),
    ...findings.boreholes.map(({ id, chainage_m, offset_m }) => ({
      ...positionAt(centreline, chainage_m, offset_m),
      name: id,
      kind: "borehole proposed",
    })),
  ];
}
