import { placeFlags } from "../flags.js";
import { rounded, significant } from "../numbers.js";
import type { Layer, Positions } from "../spec.js";
import { fontSizes, greys } from "../theme.js";
import type { CurveLayout, CurvePlot } from "./types.js";

/** Grey bands of what is set aside, behind a plot's data. */
export function notesBehind(
  { setAside = [] }: CurvePlot,
  x: Positions,
  { figure }: CurveLayout,
): readonly Layer[] {
  if (setAside.length === 0) return [];
  const at = (value: number) => (figure.x.scale === "time" ? value * 1000 : significant(value, 6));
  const values = setAside.map(({ from, to, text }) => ({ a: at(from), b: at(to), t: text }));
  return [
    {
      data: { values },
      mark: { type: "rect", color: greys.band, clip: true },
      encoding: { x: x("a"), x2: { field: "b" }, tooltip: [{ field: "t", title: "Set aside" }] },
    },
  ];
}

/** Rules of the marks and all texts, before a plot's data. */
export function notesBefore(
  { setAside = [], marks = [] }: CurvePlot,
  x: Positions,
  layout: CurveLayout,
): readonly Layer[] {
  const causes = setAside.map(({ from, to, text }) => ({ at: (from + to) / 2, text }));
  return [...rules(marks, x, layout), ...flags([...causes, ...marks], x, layout)];
}

type Note = NonNullable<CurvePlot["marks"]>[number];

function rules(marks: readonly Note[], x: Positions, layout: CurveLayout): readonly Layer[] {
  if (marks.length === 0) return [];
  const values = marks.map(({ at, text }) => ({ at: at * unitsOf(layout), t: text }));
  return [
    {
      data: { values },
      mark: { type: "rule", color: greys.text, strokeDash: [4, 3] },
      encoding: { x: x("at"), tooltip: [{ field: "t", title: "Mark" }] },
    },
  ];
}

/** Texts inside the plot, from its top downward, each beside its own rule. */
function flags(notes: readonly Note[], x: Positions, layout: CurveLayout): readonly Layer[] {
  const [from, to] = layout.xDomain;
  const unitsPer_px = (to - from) / layout.width_px;
  const placing = { unitsPer_px, size_px: fontSizes.note, letters: 24, gap_px: 7 };
  const placed = placeFlags(notes, placing);
  const look = { type: "text", align: "left", baseline: "top", dx: 3 } as const;
  return [...new Set(placed.map(({ row }) => row))].map((row) => {
    const values = placed
      .filter((flag) => flag.row === row)
      .map(({ at, text }) => ({ at: (rounded(at, 4) ?? 0) * unitsOf(layout), t: text }));
    return {
      data: { values },
      mark: { ...look, y: 3 + row * 13, color: greys.quiet },
      encoding: { x: x("at"), text: { field: "t" } },
    };
  });
}

/** Milliseconds of a time, else one: what the axis counts in. */
function unitsOf({ figure }: CurveLayout): number {
  return figure.x.scale === "time" ? 1000 : 1;
}
