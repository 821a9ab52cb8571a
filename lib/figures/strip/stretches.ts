import { entryOf, itemAt } from "../../numerics/arrays.js";
import { lightness } from "../colour.js";
import { rounded } from "../numbers.js";
import type { Colour, Layer, Positions, Row } from "../spec.js";
import { textWidth } from "../text.js";
import { coloursOf, fontSizes } from "../theme.js";
import type { DrawnPanel, PanelFrame, StripFrame } from "./frame.js";
import type { Stretch, StretchesPanel } from "./types.js";

const barHeight_px = 19;
const barStep_px = 23;

export function stretchesHeight_px(panel: StretchesPanel, frame: StripFrame): number {
  const bars = Math.max(1, laneCount(lanesOf(panel.stretches, frame)));
  const groups = groupsOf(panel);
  const rows = panel.legend === "" ? 0 : Math.ceil(groups.length / legendColumns(groups));
  return Math.max(bars * barStep_px, 17 * rows + (panel.legend ? 6 : 0));
}

export function stretchesLayers(panel: StretchesPanel, { frame, x }: PanelFrame): DrawnPanel {
  const groups = groupsOf(panel);
  const range = coloursOf(groups, panel.colours);
  const lanes = lanesOf(panel.stretches, frame);
  const ink = new Map(groups.map((group, i) => [group, inkOn(itemAt(range, i))]));
  const data = panel.stretches.map((stretch, i) => ({
    ...barRow(stretch, frame),
    ink: entryOf(ink, stretch.group),
    lane: itemAt(lanes, i),
  }));
  const color = colour(panel, groups, range);
  // A panel without stretches has its axis all the same.
  const layers = Array.from({ length: Math.max(1, laneCount(lanes)) }, (_, lane) =>
    laneLayers(panel, { lane, x, color }),
  );
  return { data, layers: layers.flat() };
}

/** Short names share rows, so that a legend stands no higher than its bars need. */
function legendColumns(groups: readonly string[]): number {
  const widest = Math.max(0, ...groups.map((group) => textWidth(group, fontSizes.label)));
  return widest < 26 ? 3 : 1;
}

interface LaneFrame {
  readonly lane: number;
  readonly x: Positions;
  readonly color: Colour;
}

function laneLayers(panel: StretchesPanel, { lane, x, color }: LaneFrame): readonly Layer[] {
  const top = lane * barStep_px;
  const tooltip = [
    { field: "t", title: panel.label },
    { field: "a", title: "From (m)" },
    { field: "b", title: "To (m)" },
    { field: "g", title: panel.legend || "Group" },
    { field: "more", title: "More" },
  ];
  const place = { y: top, y2: top + barHeight_px };
  const middle = top + barHeight_px / 2 + 0.5;
  return [
    {
      transform: [{ filter: `datum.lane === ${lane}` }],
      mark: { type: "rect", ...place, stroke: "#ffffff", strokeWidth: 1, clip: true },
      encoding: { x: x("a"), x2: { field: "b" }, color, tooltip },
    },
    {
      transform: [{ filter: `datum.lane === ${lane} && datum.label !== ""` }],
      mark: { type: "text", baseline: "middle", y: middle, clip: true },
      encoding: {
        x: x("c"),
        text: { field: "label" },
        fill: { field: "ink", type: "nominal", scale: null },
      },
    },
  ];
}

function barRow({ from_m, to_m, text, group, detail }: Stretch, frame: StripFrame): Row {
  const [from, to] = [Math.max(from_m, frame.domain_m[0]), Math.min(to_m, frame.domain_m[1])];
  const fits = textWidth(text, fontSizes.note) + 6 <= (to - from) / frame.metresPer_px;
  return {
    a: rounded(from_m),
    b: rounded(to_m),
    c: rounded((from + to) / 2, 2),
    t: text,
    label: fits ? text : "",
    g: group,
    more: detail ?? "",
  };
}

/** Dark letters on a light bar, white ones on a dark bar. */
function inkOn(colour: string): string {
  return lightness(colour) > 0.66 ? "#1b1d1f" : "#ffffff";
}

function colour({ legend: title }: StretchesPanel, groups: string[], range: string[]): Colour {
  const squares = { symbolType: "square", symbolStrokeWidth: 0 };
  const columns = legendColumns(groups);
  const legend = { title: title ?? null, columns, columnPadding: 12, ...squares };
  const scale = { domain: groups, range };
  return { field: "g", type: "nominal", scale, legend: title === "" ? null : legend };
}

function groupsOf({ stretches, colours = {} }: StretchesPanel): string[] {
  const found = new Set(stretches.map(({ group }) => group));
  const order = Object.keys(colours).filter((group) => found.has(group));
  return [...new Set([...order, ...found])];
}

function laneCount(lanes: readonly number[]): number {
  return lanes.reduce((most, lane) => Math.max(most, lane + 1), 0);
}

/** The lowest lane in which each stretch meets no earlier one. */
function lanesOf(stretches: readonly Stretch[], frame: StripFrame): readonly number[] {
  const ends: number[] = [];
  const lanes = new Array<number>(stretches.length).fill(0);
  const rising = [...stretches.entries()].sort(([, one], [, other]) => one.from_m - other.from_m);
  for (const [i, { from_m, to_m }] of rising) {
    const free = ends.findIndex((end) => from_m >= end - 0.5 * frame.metresPer_px);
    const lane = free < 0 ? ends.length : free;
    lanes[i] = lane;
    ends[lane] = to_m;
  }
  return lanes;
}
