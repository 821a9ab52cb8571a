import type { Colour, Positions } from "../spec.js";
import { classColour } from "../theme.js";
import type { DepthPanel } from "./types.js";

export const height_px = 320;

/** What is drawn against depth. */
export type DepthForm = "steps" | "curves" | "points";

/** What the panels of a depth figure share. */
export interface DepthFrame {
  readonly base_m: number;
  readonly y: Positions;
  /** The series of each form over all panels with a legend. */
  readonly names: Readonly<Record<DepthForm, readonly string[]>>;
}

/** Names of one form over all panels with a legend, in the order they come: a colour each. */
export function namesOf(panels: readonly DepthPanel[], form: DepthForm): readonly string[] {
  const names = panels.flatMap((panel) =>
    panel.kind === "values" && panel.legend !== ""
      ? (panel[form] ?? []).map(({ name }) => name)
      : [],
  );
  return [...new Set(names)];
}

/** Steps begin with the first class colour, points with the one after it. */
const firstColour = { steps: 0, curves: 0, points: 1 } as const;

export function colourOf(name: string, form: DepthForm, frame: DepthFrame): string {
  return classColour(Math.max(0, frame.names[form].indexOf(name)) + firstColour[form]);
}

/** In the colour that the legend gives; the form's first colour where the panel has no legend. */
export function colouring(form: DepthForm, title: string | undefined, frame: DepthFrame): Colour {
  if (title === "") return { value: classColour(firstColour[form]) };
  const domain = [...frame.names[form]];
  const range = domain.map((name) => colourOf(name, form, frame));
  const diamonds = { title: "Samples", symbolType: "diamond" };
  const strokes = { title: title ?? null, symbolType: "stroke" };
  const look = form === "points" ? diamonds : strokes;
  const filled = form === "points" ? { symbolStrokeWidth: 0 } : {};
  const legend = { ...look, symbolOpacity: 1, labelLimit: 220, ...filled };
  return { field: "s", type: "nominal", scale: { domain, range }, legend };
}
