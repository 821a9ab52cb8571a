import { logSteps } from "../numbers.js";
import { greys } from "../theme.js";
import type { PlanFrame } from "./plan-frame.js";

type Json = Readonly<Record<string, unknown>>;

/** The north arrow and the scale bar, above the plotted area at its right. */
export function planFurniture(frame: PlanFrame): readonly Json[] {
  const right = frame.width_px;
  const bar_m = roundLength(frame.metresPer_px * 130);
  const left = right - 40 - bar_m / frame.metresPer_px;
  const rule = (from: number, to: number): Json => ({
    data: { values: [{}] },
    encoding: {},
    mark: { type: "rect", x: from, x2: to, y: -9, y2: -7, color: greys.text },
  });
  const text = (content: string, x: number, align: string): Json => ({
    data: { values: [{}] },
    encoding: {},
    mark: { type: "text", text: content, x, y: -18, align, baseline: "middle" },
  });
  return [
    rule(left, right - 40),
    text(`${bar_m.toLocaleString("en-GB")} m`, right - 40, "right"),
    ...northArrow(right - 10),
  ];
}

function northArrow(x: number): readonly Json[] {
  return [
    {
      data: { values: [{}] },
      encoding: {},
      mark: { type: "rect", x: x - 0.75, x2: x + 0.75, y: -22, y2: -4, color: greys.text },
    },
    {
      data: { values: [{}] },
      encoding: {},
      mark: {
        type: "point",
        shape: "triangle-up",
        filled: true,
        size: 55,
        x,
        y: -24,
        color: greys.text,
        opacity: 1,
      },
    },
    {
      data: { values: [{}] },
      encoding: {},
      mark: { type: "text", text: "N", x: x - 13, y: -18, align: "center", baseline: "middle" },
    },
  ];
}

/** The largest of 1, 2, 5 × 10^k m not above a length. */
function roundLength(length_m: number): number {
  const steps = logSteps(length_m / 10, length_m).filter((step) => step <= length_m);
  return steps[steps.length - 1] ?? length_m;
}
