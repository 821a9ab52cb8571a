import { type DepthPanel, depthSpec } from "../../../figures/depth/depth.js";
import { lastOf } from "../../../numerics/arrays.js";
import type { Figure } from "../../../step/figure.js";
import type { Borehole } from "../../../survey/survey.js";
import type { DepthSlices } from "../../depth-slices.js";
import { soundingFinding } from "./finding.js";
import type { Sounding } from "./sounding.js";

export function soundingFigure(slices: DepthSlices, value: Sounding): Figure {
  const title = soundingFinding(slices, value);
  const reach = value.channels.length > 0;
  return {
    id: `depth-sounding-${value.campaign}-${Math.round(value.chainage_m)}`,
    title,
    caption:
      "Left to right: the most likely resistivity of each layer at field temperature, and the " +
      "band that holds it with 80 % probability" +
      (reach ? "; the share of each channel's sensitivity that lies above a depth" : "") +
      "; how much of what was not known beforehand the readings decide. The last layer goes on " +
      "for ever. " +
      (reach ? "Channels whose curves lie on each other tell the same. " : "") +
      "In the grey, below the reliable depth, the prior speaks." +
      (value.borehole === null ? "" : boreholeText(value.borehole, value)),
    spec: depthSpec({
      title,
      subtitle: subtitleOf(value),
      base_m: baseOf(value),
      panels: panelsOf(value),
      below: {
        from_m: value.reliableTo_m,
        text: `reliable\nto ${value.reliableTo_m.toFixed(1)} m`,
      },
    }),
  };
}

function boreholeText({ borehole, chainage_m, laboratory }: Borehole, value: Sounding): string {
  const away = Math.abs(chainage_m - value.chainage_m).toFixed(0);
  const samples = laboratory.some(({ resistivity_ohm_m }) => resistivity_ohm_m !== null);
  return (
    ` Log of borehole ${borehole}, ${away} m along the bank from the station.` +
    (samples ? " Diamonds: its samples in the laboratory, at their own temperature." : "")
  );
}

function subtitleOf({ campaign, crestElevation_m }: Sounding): string {
  const crest =
    crestElevation_m === null ? "" : `; crest at ${crestElevation_m.toFixed(2)} m above datum`;
  return `Campaign ${campaign}${crest}`;
}

/** A little below the last layer's top. */
function baseOf({ top_m }: Sounding): number {
  return Number((1.1 * lastOf(top_m)).toPrecision(2));
}

function panelsOf(value: Sounding): readonly DepthPanel[] {
  const { top_m, learned, channels, borehole } = value;
  return [
    ...(borehole === null ? [] : [logPanel(borehole)]),
    resistivityPanel(value),
    ...(channels.length > 0 ? [reachPanel(value)] : []),
    {
      kind: "values",
      label: "What readings decide",
      axis: "Variance removed (%)",
      scale: "linear",
      domain: [0, 100],
      width_px: 130,
      steps: [{ name: "decided", top_m, value: learned.map((share) => 100 * share) }],
      legend: "",
    },
  ];
}

function logPanel({ borehole, strata }: Borehole): DepthPanel {
  return {
    kind: "column",
    label: `Log of ${borehole}`,
    layers: strata.map(({ top_m, base_m, soil, description }) => ({
      top_m,
      base_m,
      text: description.split(",")[0] || soil,
      short: soil,
    })),
  };
}

function resistivityPanel(value: Sounding): DepthPanel {
  const { top_m, resistivity_ohm_m, p10_ohm_m, p90_ohm_m, borehole } = value;
  const samples = (borehole?.laboratory ?? []).flatMap(({ depth_m, resistivity_ohm_m: value }) =>
    value === null ? [] : [{ name: "laboratory, own temperature", depth_m, value }],
  );
  const name = "most likely, with 80 % band";
  return {
    kind: "values",
    label: "Resistivity",
    axis: "Resistivity (ohm-m)",
    scale: "log",
    width_px: 230,
    steps: [{ name, top_m, value: resistivity_ohm_m, lo: p10_ohm_m, hi: p90_ohm_m }],
    points: samples,
    legend: "Resistivity",
  };
}

function reachPanel({ channels }: Sounding): DepthPanel {
  return {
    kind: "values",
    label: "How deep channels look",
    axis: "Sensitivity above (%)",
    scale: "linear",
    domain: [0, 100],
    width_px: 190,
    curves: channels.map(({ name, family, depth_m, above }) => ({
      name: family,
      detail: name,
      depth_m,
      value: above.map((share) => 100 * share),
    })),
    legend: "Channels, a curve a frequency",
  };
}
