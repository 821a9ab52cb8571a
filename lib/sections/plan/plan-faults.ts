import { checkNumber, NOT_NEGATIVE, POSITIVE } from "../../earth/check.js";
import { type Fault, quoted } from "../../step/step-error.js";
import { ARRAYS, arraySpreads, lineLayout } from "./layout.js";
import type { LineTarget } from "./line-plan.js";
import type { PlanLineOptions } from "./options.js";

/** Every fault of the target, and of a line that is too short for it. */
export function planLineFaults(target: LineTarget, used: PlanLineOptions): readonly Fault[] {
  const faults: Fault[] = [];
  checkNumber(faults, "target.length_m", [target?.length_m, POSITIVE]);
  checkNumber(faults, "target.top_m", [target?.top_m, NOT_NEGATIVE]);
  checkNumber(faults, "target.base_m", [target?.base_m, POSITIVE]);
  checkNumber(faults, "target.resistivityRatio", [target?.resistivityRatio, POSITIVE]);
  if (faults.length > 0) return faults;
  const { top_m, base_m, resistivityRatio } = target;
  if (!(top_m < base_m)) {
    const expected = `below the top at ${top_m} m`;
    faults.push({ code: "order", path: "target.base_m", expected, received: String(base_m) });
  }
  if (resistivityRatio === 1) {
    const expected = "other than 1: a target like its ground does not show";
    faults.push({ code: "no-target", path: "target.resistivityRatio", expected, received: "1" });
  }
  return faults.length > 0 ? faults : lineFaults(target, used);
}

const LEAST_READINGS = 20;

function lineFaults(target: LineTarget, used: PlanLineOptions): Fault[] {
  const layout = lineLayout(target, used);
  const names = used.array === "compared" ? ARRAYS : [used.array];
  return names.flatMap((name) => {
    const count = arraySpreads(name, layout, target).length;
    if (count >= LEAST_READINGS) return [];
    const expected = `a line on which ${name} makes ${LEAST_READINGS} readings or more`;
    const received = `${layout.electrodes.length} electrodes every ${layout.spacing_m} m`;
    const hint = `readings look no deeper than twice the target's base; ${quoted("suggested")}`;
    return [{ code: "too-few-readings", path: "options.electrodes", expected, received, hint }];
  });
}
