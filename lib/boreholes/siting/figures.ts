import { classColoursOf } from "../../blocks/classes/class-colours.js";
import { type PlanPoint, type PlanStretch, planMapSpec } from "../../figures/plan/plan-map.js";
import { type StripPanel, stripSpec } from "../../figures/strip/strip.js";
import { bandColours, classColour, greys } from "../../figures/theme.js";
import type { Figure } from "../../step/figure.js";
import { positionAt } from "../../survey/bank/position.js";
import { stretchPath } from "../../survey/bank/stretch-path.js";
import type { SitingInput } from "./input.js";
import type { BoreholePlan } from "./plan.js";

export function sitingFigures(value: BoreholePlan, input: SitingInput): readonly Figure[] {
  return [planFigure(value, input), mapFigure(value, input)];
}

/** What the plan adds beside what equal spacing would add, in a sentence. */
export function planFinding({ settles_m, before_m, equal }: BoreholePlan): string {
  const [plan, other] = [settles_m - before_m, equal.settles_m - before_m];
  const more =
    other > 0 && plan / other < 5
      ? `${(plan / other).toFixed(1)} times what as many metres at equal spacing settle`
      : "far more than as many metres at equal spacing";
  return `The plan settles ${plan.toFixed(0)} m of bank as weighed, ${more}`;
}

/** Those that the holes' points take, in the order in which their groups come. */
const COLOURS = {
  existing: classColour(0),
  equal: classColour(1),
  plan: classColour(2),
};

function planFigure(value: BoreholePlan, input: SitingInput): Figure {
  const title = planFinding(value);
  return {
    id: "borehole-plan",
    title,
    caption:
      "Above, the share of the soil's variance that the nearest alike borehole tells, mean of the " +
      "reliable slices: with the existing boreholes, with the plan, with as many metres at equal " +
      "spacing. Below, blocks by class, seepage zones and the holes by depth; P1 is drilled first. " +
      "No hole lies in a grey band: what is there was set aside or noted.",
    spec: stripSpec({
      title,
      domain_m: [input.slices.chainage_m[0] ?? 0, input.slices.chainage_m.at(-1) ?? 1],
      panels: [toldPanel(value), ...stretchPanels(input), holesPanel(value, input)],
      marks: value.holes.map(({ id, chainage_m }) => ({ at_m: chainage_m, text: id })),
      setAside: value.avoided.map(({ from_m, to_m, why }) => ({
        ...{ from_m, to_m },
        text: "",
        detail: why,
      })),
    }),
  };
}

function toldPanel({ told }: BoreholePlan): StripPanel {
  const x = told.chainage_m;
  return {
    kind: "lines",
    label: "Share of the soil's variance told",
    scale: "linear",
    domain: [0, 1],
    height_px: 120,
    legend: "Told by",
    series: [
      { name: "equal spacing", x, y: told.equal, colour: COLOURS.equal },
      { name: "plan", x, y: told.plan, colour: COLOURS.plan },
      { name: "existing boreholes", x, y: told.before, colour: COLOURS.existing },
    ],
  };
}

function stretchPanels({ blocks, zones }: SitingInput): readonly StripPanel[] {
  const cut = blocks?.blocks ?? [];
  const block = cut.map(({ id, from_m, to_m, class: name }) => ({
    ...{ from_m, to_m },
    text: id,
    group: name,
  }));
  const zone = zones.map(({ rank, from_m, to_m, band }) => ({
    ...{ from_m, to_m },
    text: String(rank),
    group: "zone",
    detail: band,
  }));
  return [
    ...(block.length > 0
      ? [
          {
            kind: "stretches",
            label: "Blocks",
            legend: "Class",
            colours: classColoursOf(cut),
            stretches: block,
          } as const,
        ]
      : []),
    ...(zone.length > 0
      ? [
          {
            kind: "stretches",
            label: "Seepage zones by rank",
            legend: "",
            colours: { zone: greys.rule },
            stretches: zone,
          } as const,
        ]
      : []),
  ];
}

function holesPanel({ holes, equal }: BoreholePlan, { survey }: SitingInput): StripPanel {
  const deepest = Math.max(
    ...[...holes, ...equal.holes, ...survey.boreholes].map(({ depth_m }) => depth_m),
  );
  return {
    kind: "points",
    label: "Depth of holes (m)",
    scale: "linear",
    height_px: 130,
    domain: [1.15 * deepest, 0],
    legend: "Holes",
    points: [
      ...survey.boreholes.map(({ borehole, chainage_m, depth_m }) => ({
        ...{ x_m: chainage_m, y: depth_m },
        group: "existing",
        text: borehole,
      })),
      ...equal.holes.map(({ chainage_m, depth_m }) => ({
        ...{ x_m: chainage_m, y: depth_m },
        group: "equal spacing",
      })),
      ...holes.map(({ id, chainage_m, depth_m, place }) => ({
        ...{ x_m: chainage_m, y: depth_m },
        group: `plan, ${place}`,
        text: id,
      })),
    ],
  };
}

function mapFigure(value: BoreholePlan, input: SitingInput): Figure {
  const { centreline } = input.survey;
  const toe = value.holes.filter(({ place }) => place === "landside toe").length;
  const where =
    toe === 0
      ? "all from the crest"
      : `${value.holes.length - toe} from the crest, ${toe} at the toe`;
  const title = `${value.holes.length} proposed boreholes, ${where}`;
  const points: PlanPoint[] = [
    ...input.survey.boreholes.map(({ borehole, chainage_m, offset_m }) => ({
      ...positionAt(centreline, chainage_m, offset_m),
      name: borehole,
      kind: "borehole",
    })),
    ...value.holes.map(({ id, chainage_m, offset_m, place }) => ({
      ...positionAt(centreline, chainage_m, offset_m),
      name: id,
      kind: `proposed, ${place}`,
    })),
  ];
  return {
    id: "borehole-map",
    title,
    caption:
      "Plan, grid north up. Proposed holes with their priorities, the existing boreholes, and the " +
      "seepage zones along the crest by band.",
    spec: planMapSpec({
      title,
      epsg: centreline.epsg,
      lines: [
        { name: "centreline", easting_m: centreline.easting_m, northing_m: centreline.northing_m },
      ],
      stretches: input.zones.map((zone) => zoneStretch(zone, input)),
      points,
      legend: "Seepage zones",
      colours: bandColours,
    }),
  };
}

function zoneStretch(zone: SitingInput["zones"][number], { survey }: SitingInput): PlanStretch {
  const path = stretchPath(survey.centreline, zone);
  return { ...path, text: `zone ${zone.rank}`, group: zone.band };
}
