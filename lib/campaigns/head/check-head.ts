import type { DepthSlices } from "../../depth/depth-slices.js";
import { type Fault, quoted } from "../../step/step-error.js";
import type { WaterLevel } from "../../survey/survey.js";
import { campaignsFaults } from "../check-campaigns.js";
import type { HeadOptions } from "./options.js";

export interface HeadInput {
  readonly slices: readonly DepthSlices[];
  readonly waterLevels: readonly WaterLevel[];
}

/** Every fault of the campaigns, and of a point at which no level was read. */
export function headFaults({ slices, waterLevels }: HeadInput, { point }: HeadOptions): Fault[] {
  return [...campaignsFaults(slices, 2), ...pointFault(waterLevels, point)];
}

function pointFault(levels: readonly WaterLevel[], point: string): Fault[] {
  const points = [...new Set(levels.map((one) => one.point))];
  if (points.includes(point) || points.length === 0) return [];
  const expected = `one of ${points.map(quoted).join(", ")}`;
  return [{ code: "option-value", path: "options.point", expected, received: quoted(point) }];
}
