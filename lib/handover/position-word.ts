import type { Pass } from "../survey/survey.js";

/** Whether a reading's position was measured, bridged over a gap by time, or is missing. */
export function positionWord(pass: Pass, row: number): "measured" | "bridged" | "none" {
  if (pass.positionBridged?.[row] === 1) return "bridged";
  return Number.isNaN(pass.chainage_m[row]) ? "none" : "measured";
}
