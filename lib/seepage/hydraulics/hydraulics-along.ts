import { itemAt } from "../../numerics/arrays.js";
import type { Survey } from "../../survey/survey.js";
import type { Stretch } from "../evidence/piece.js";
import type { ToeBlanket } from "../evidence/toe-blanket.js";
import type { SeepageOptions } from "../options.js";
import type { JudgedStretch, StretchHydraulics } from "./judged-stretch.js";
import { stretchHydraulics } from "./stretch-hydraulics.js";
import { stretchInputs } from "./stretch-inputs.js";

interface Known {
  readonly survey: Survey;
  readonly toe: ToeBlanket | null;
  /** The ends of what was walked, m. */
  readonly from_m: number;
  readonly to_m: number;
}

/** Stretches of equal length along the bank, and the given ones, all against each other. */
export function hydraulicsAlong(
  zones: readonly Stretch[],
  known: Known,
  used: SeepageOptions,
): { readonly zones: readonly JudgedStretch[]; readonly stretches: readonly JudgedStretch[] } {
  const { hydraulics: ranges, seed, stretch_m } = used;
  const even = evenStretches(known, stretch_m);
  const all = [...even, ...zones];
  const middles = Float64Array.from(all, ({ from_m, to_m }) => (from_m + to_m) / 2);
  const inputs = stretchInputs(middles, known, ranges);
  const found = stretchHydraulics(inputs, { ...ranges, seed });
  const judged = all.map((stretch, i) => {
    const hydraulics = itemAt(found, i);
    const why = whyNot(hydraulics, ranges.toldFrom, known.survey);
    const exitGradient = why === "" && hydraulics !== null ? hydraulics.exitGradient : null;
    return { from_m: stretch.from_m, to_m: stretch.to_m, hydraulics, exitGradient, why };
  });
  return { stretches: judged.slice(0, even.length), zones: judged.slice(even.length) };
}

function evenStretches({ from_m, to_m }: Known, stretch_m: number): readonly Stretch[] {
  const count = Math.max(1, Math.round((to_m - from_m) / stretch_m));
  const step = (to_m - from_m) / count;
  return to_m > from_m
    ? Array.from({ length: count }, (_, i) => ({
        from_m: from_m + i * step,
        to_m: from_m + (i + 1) * step,
      }))
    : [];
}

function whyNot(found: StretchHydraulics | null, toldFrom: number, survey: Survey): string {
  if (found !== null && found.told >= toldFrom) return "";
  if (found !== null) {
    const share = Math.round(100 * Math.max(0, found.told));
    return (
      `The data do not tell this stretch from its neighbours: they explain ${share} % of what ` +
      "gradients differ by along the bank. A hole or a line at its toe would."
    );
  }
  return survey.designWaterLevel_m === null
    ? "No design water level is given."
    : "The cross-section is not known here, or the design water stands below the toe.";
}
