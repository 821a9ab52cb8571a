import { lightness } from "../colour.js";
import { rounded } from "../numbers.js";
import { textWidth } from "../text.js";
import { classColours, fontSizes } from "../theme.js";
import type { DrawnPanel, PanelFrame, StripFrame } from "./strip-frame.js";
import type { Stretch, StretchesPanel } from "./strip-types.js";

type Json = Readonly<Record<string, unknown>>;

const barHeight_px = 19;
const barStep_px = 23;

export function stretchesHeight_px(panel: StretchesPanel, frame: StripFrame): number {
  const bars = lanes(panel.stretches, frame).reduce((most, lane) => Math.max(most, lane + 1), 1);
  const groups = groupsOf(panel);
  const rows = panel.legend === "" ? 0 : Math.ceil(groups.length / legendColumns(groups));
  return Math.max(bars * barStep_px, 17 * rows + (panel.legend ? 6 : 0));
}

export function stretchesLayers(panel: StretchesPanel, { frame, x }: PanelFrame): DrawnPanel {
  const colours = groupColours(panel);
  const lane = lanes(panel.stretches, frame);
  const values = panel.stretches.map((stretch, i) => row(stretch, lane[i]!, { frame, colours }));
  const laneCount = lane.reduce((most, at) => Math.max(most, at + 1), 0);
  const layers = Array.from({ length: laneCount }, (_, at) => at).flatMap((at) =>
    laneLayers(panel, { at, x, colours }),
  );
  return { data: values, layers };
}

/** Short names share rows, so that a legend stands no higher than its bars need. */
function legendColumns(groups: readonly string[]): number {
  const widest = Math.max(0, ...groups.map((group) => textWidth(group, fontSizes.label)));
  return widest < 26 ? 3 : 1;
}

interface Lane {
  readonly at: number;
  readonly x: (field: string) => Json;
  readonly colours: ReadonlyMap<string, string>;
}

function laneLayers(panel: StretchesPanel, { at, x, colours }: Lane): readonly Json[] {
  const top = at * barStep_px;
  const tooltip = [
    { field: "t", title: panel.label },
    { field: "a", title: "From (m)" },
    { field: "b", title: "To (m)" },
    { field: "g", title: panel.legend || "Group" },
    { field: "more", title: "More" },
  ];
  const bar = {
    type: "rect",
    y: top,
    y2: top + barHeight_px,
    stroke: "#ffffff",
    strokeWidth: 1,
    clip: true,
  };
  return [
    {
      transform: [{ filter: `datum.lane === ${at}` }],
      mark: bar,
      encoding: { x: x("a"), x2: { field: "b" }, color: colour(panel, colours), tooltip },
    },
    {
      transform: [{ filter: `datum.lane === ${at} && datum.label !== ""` }],
      mark: { type: "text", baseline: "middle", y: top + barHeight_px / 2 + 0.5, clip: true },
      encoding: {
        x: x("c"),
        text: { field: "label" },
        fill: { field: "ink", type: "nominal", scale: null },
      },
    },
  ];
}

function row(
  stretch: Stretch,
  lane: number,
  { frame, colours }: { frame: StripFrame; colours: ReadonlyMap<string, string> },
): Json {
  const { from_m, to_m, text, group, detail } = stretch;
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
    ink: lightness(colours.get(group)!) > 0.66 ? "#1b1d1f" : "#ffffff",
    lane,
  };
}

function colour(panel: StretchesPanel, colours: ReadonlyMap<string, string>): Json {
  const scale = { domain: [...colours.keys()], range: [...colours.values()] };
  const columns = legendColumns([...colours.keys()]);
  const squares = { symbolType: "square", symbolStrokeWidth: 0 };
  const legend = { title: panel.legend ?? null, columns, columnPadding: 12, ...squares };
  return { field: "g", type: "nominal", scale, legend: panel.legend === "" ? null : legend };
}

function groupsOf(panel: StretchesPanel): readonly string[] {
  const order = Object.keys(panel.colours ?? {});
  const found = new Set(panel.stretches.map(({ group }) => group));
  return [
    ...order.filter((group) => found.has(group)),
    ...[...found].filter((g) => !order.includes(g)),
  ];
}

function groupColours(panel: StretchesPanel): ReadonlyMap<string, string> {
  return new Map(
    groupsOf(panel).map((group, i) => [
      group,
      panel.colours?.[group] ?? classColours[i % classColours.length]!,
    ]),
  );
}

/** The lowest lane in which each stretch meets no earlier one. */
function lanes(stretches: readonly Stretch[], frame: StripFrame): readonly number[] {
  const order = stretches
    .map((_, i) => i)
    .sort((a, b) => stretches[a]!.from_m - stretches[b]!.from_m);
  const ends: number[] = [];
  const lane = new Array<number>(stretches.length).fill(0);
  for (const i of order) {
    const { from_m, to_m } = stretches[i]!;
    const free = ends.findIndex((end) => from_m >= end - 0.5 * frame.metresPer_px);
    lane[i] = free < 0 ? ends.length : free;
    ends[lane[i]!] = to_m;
  }
  return lane;
}
