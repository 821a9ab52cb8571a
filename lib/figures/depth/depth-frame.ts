import { classColours } from "../theme.js";
import type { DepthPanel } from "./depth-types.js";

type Json = Readonly<Record<string, unknown>>;

/** What the panels of a depth figure share. */
export interface DepthFrame {
  readonly base_m: number;
  readonly height_px: number;
  readonly y: (field: string) => Json;
  /** The series of each form over all panels. */
  readonly names: Readonly<Record<"steps" | "curves" | "points", readonly string[]>>;
}

/** Names of one form over all panels, in the order they come: a colour each. */
export function namesOf(
  panels: readonly DepthPanel[],
  form: "steps" | "curves" | "points",
): readonly string[] {
  const names = panels.flatMap((panel) =>
    panel.kind === "values" ? (panel[form] ?? []).map(({ name }) => name) : [],
  );
  return [...new Set(names)];
}

/** Steps begin with the first class colour, points with the one after it. */
const FIRST = { steps: 0, curves: 0, points: 1 } as const;

export function colourOf(name: string, form: keyof typeof FIRST, frame: DepthFrame): string {
  const place = frame.names[form].indexOf(name) + FIRST[form];
  return classColours[place % classColours.length]!;
}

function named(form: keyof typeof FIRST, legend: string | undefined, frame: DepthFrame): Json {
  const domain = frame.names[form];
  const range = domain.map((name) => colourOf(name, form, frame));
  const symbolType = form === "points" ? "diamond" : "stroke";
  const title = form === "points" ? "Samples" : (legend ?? null);
  const look = { title, symbolType, symbolOpacity: 1, labelLimit: 220 };
  const filled = form === "points" ? { symbolStrokeWidth: 0 } : {};
  return { field: "s", type: "nominal", scale: { domain, range }, legend: { ...look, ...filled } };
}

/** In the colour that the legend gives; by itself where the panel has no legend. */
export function colouring(
  channel: "stroke" | "color" | "fill",
  form: keyof typeof FIRST,
  { legend, frame }: { readonly legend: string | undefined; readonly frame: DepthFrame },
): Json {
  if (legend !== "") return { [channel]: named(form, legend, frame) };
  return { [channel]: { value: classColours[FIRST[form]] } };
}
