import { logSteps } from "../numbers.js";
import { fixedLayer, type Layer } from "../spec.js";
import { greys } from "../theme.js";
import type { PlanFrame } from "./frame.js";

/** The north arrow and the scale bar, above the plotted area at its right. */
export function planFurniture(frame: PlanFrame): readonly Layer[] {
  const right = frame.width_px - 40;
  const bar_m = roundLength(frame.metresPer_px * 130);
  const left = right - bar_m / frame.metresPer_px;
  return [
    fixedLayer({ type: "rect", x: left, x2: right, y: -9, y2: -7, color: greys.text }),
    words(`${bar_m.toLocaleString("en-GB")} m`, right, "right"),
    ...northArrow(frame.width_px - 10),
  ];
}

function words(text: string, x: number, align: "center" | "right"): Layer {
  return fixedLayer({ type: "text", text, x, y: -18, align, baseline: "middle" });
}

function northArrow(x: number): readonly Layer[] {
  const head = { type: "point", shape: "triangle-up", filled: true, size: 55 } as const;
  return [
    fixedLayer({ type: "rect", x: x - 0.75, x2: x + 0.75, y: -22, y2: -4, color: greys.text }),
    fixedLayer({ ...head, x, y: -24, color: greys.text, opacity: 1 }),
    words("N", x - 13, "center"),
  ];
}

/** The largest of 1, 2, 5 × 10^k m not above a length. */
function roundLength(length_m: number): number {
  return logSteps(length_m / 10, length_m).findLast((step) => step <= length_m) ?? length_m;
}
