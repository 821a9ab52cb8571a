import { normalPoint } from "../../numerics/statistics/normal.js";
import type { Borehole } from "../../survey/survey.js";
import { isCoarse } from "../pervious-threshold.js";
import type { Range } from "./options.js";

/**
 * A number that is the same all along the bank and not known: its value at a share of its chances.
 */
export interface Unknown {
  readonly at: (share: number) => number;
  readonly source: string;
}

/** Evenly on a log scale between declared limits. */
export function declaredRange([low, high]: Range): Unknown {
  return { at: (share) => low * (high / low) ** share, source: "declared range" };
}

/** Laboratory values of one soil scatter by about a factor of three (common practice). */
const SCATTER_LN = Math.log(3);

/**
 * Hydraulic conductivity of the fine or of the coarse ground under the bank's base from laboratory
 * values: log-normal about their mean, with the variance of the mean and of one more value; the
 * declared range where no such ground was tested.
 */
export function permeability(
  boreholes: readonly Borehole[],
  kind: "fine" | "coarse",
  { range, base_m }: { readonly range: Range; readonly base_m: (hole: Borehole) => number },
): Unknown {
  const ln = boreholes.flatMap((hole) =>
    hole.laboratory.flatMap(({ depth_m, hydraulic_conductivity_m_per_s: k }) => {
      const soil = hole.strata.find((one) => one.top_m <= depth_m && depth_m <= one.base_m)?.soil;
      if (k === null || !(k > 0) || soil === undefined || depth_m < base_m(hole)) return [];
      return isCoarse(soil) === (kind === "coarse") ? [Math.log(k)] : [];
    }),
  );
  if (ln.length === 0) return declaredRange(range);
  const mean = ln.reduce((sum, value) => sum + value, 0) / ln.length;
  const squares = ln.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  const scatter = ln.length >= 4 ? Math.sqrt(squares / (ln.length - 1)) : SCATTER_LN;
  const sd = Math.max(scatter, SCATTER_LN / 2) * Math.sqrt(1 + 1 / ln.length);
  return {
    at: (share) => Math.exp(mean - sd * normalPoint(within(share))),
    source: `${ln.length} laboratory values`,
  };
}

const within = (share: number) => Math.min(1 - 1e-9, Math.max(1e-9, share));
