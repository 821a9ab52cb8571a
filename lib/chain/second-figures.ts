import { type StripPanel, stripSpec } from "../figures/strip/strip.js";
import { classColour } from "../figures/theme.js";
import { valueAt } from "../numerics/arrays.js";
import type { Figure } from "../step/figure.js";
import { countText } from "../step/show/html.js";
import type { Borehole } from "../survey/survey.js";
import type { Work } from "./work.js";

/** Before the boreholes and with them, as the groups of points take their colours. */
const [BEFORE, AFTER] = [classColour(0), classColour(1)];

/** The bank before and after drilling; none where there is nothing to set side by side. */
export function secondFigures(
  { before, work }: { readonly before: Work; readonly work: Work },
  boreholes: readonly Borehole[],
): readonly Figure[] {
  const x = work.seepage.value.chainage_m;
  if (boreholes.length === 0 || x.length < 2) return [];
  const title = `${countText(boreholes.length, "borehole")} drilled: before and after`;
  return [
    {
      id: "second-interpretation",
      title,
      caption:
        "Above, the seepage score as a probability under the weights, without the boreholes and " +
        "with them; below, the zones that it makes and the boreholes proposed next. Vertical " +
        "lines are the boreholes drilled.",
      spec: stripSpec({
        title,
        domain_m: [valueAt(x, 0), valueAt(x, x.length - 1)],
        panels: [scorePanel(before, work), ...zonePanels(before, work), nextPanel(before, work)],
        marks: boreholes.map(({ borehole, chainage_m }) => ({ at_m: chainage_m, text: borehole })),
      }),
    },
  ];
}

function scorePanel(before: Work, after: Work): StripPanel {
  const line = (name: string, { seepage }: Work, colour: string) => ({
    ...{ name, colour, x: seepage.value.chainage_m },
    y: seepage.value.score.map((score) => 1 / (1 + Math.exp(-score))),
  });
  return {
    kind: "lines",
    label: "Probability of a seepage path, under the weights",
    ...{ scale: "linear", domain: [0, 1], legend: "Interpretation" },
    series: [line("before drilling", before, BEFORE), line("after drilling", after, AFTER)],
  };
}

function zonePanels(before: Work, after: Work): readonly StripPanel[] {
  const panel = (label: string, { seepage }: Work, colour: string): readonly StripPanel[] => {
    const stretches = seepage.value.zones.map(({ rank, from_m, to_m, band }) => {
      return { from_m, to_m, text: String(rank), group: "zone", detail: band };
    });
    const colours = { zone: colour };
    return stretches.length === 0
      ? []
      : [{ kind: "stretches", label, legend: "", colours, stretches }];
  };
  return [
    ...panel("Seepage zones by rank, before", before, BEFORE),
    ...panel("Seepage zones by rank, after", after, AFTER),
  ];
}

function nextPanel(before: Work, after: Work): StripPanel {
  const points = [
    ...(before.boreholes?.value.holes ?? []).map((hole) => ({ hole, group: "before drilling" })),
    ...(after.boreholes?.value.holes ?? []).map((hole) => ({ hole, group: "after drilling" })),
  ].map(({ hole: { id, chainage_m, depth_m }, group }) => {
    return { x_m: chainage_m, y: depth_m, group, text: id };
  });
  const deepest_m = Math.max(1, ...points.map(({ y }) => y));
  return {
    kind: "points",
    label: "Depth of the boreholes proposed next (m)",
    ...{ scale: "linear", domain: [1.2 * deepest_m, 0], height_px: 120, legend: "Proposed" },
    points,
  };
}
