import type { ChannelDrift, DriftModel } from "./drift.js";
import type { DriftCurve } from "./models/drift-curve.js";
import type { ChosenModel } from "./models/drift-models.js";
import { type ChannelFit, rootMeanSquare } from "./models/fit-channel.js";
import type { DriftOptions } from "./options.js";

/** What becomes of one channel's values. */
export interface JudgedDrift {
  /** The curve to take off; null where the values stay. */
  readonly curve: DriftCurve | null;
  /** Where no curve is taken off: the estimate of what stays in the values; null if there is none. */
  readonly left: DriftCurve | null;
  /** Standard deviation of what stays where there is no estimate. */
  readonly unevenness: number;
  readonly model: ChannelDrift["model"];
  /** Why the values are left; "" where they are corrected. */
  readonly reason: string;
}

/** Whether a channel's drift is significant: its values are then corrected, else left as they are. */
export function judgeDrift(fit: ChannelFit, used: DriftOptions): JudgedDrift {
  const { chosen, unevenness } = fit;
  const left = chosen?.model === "average" ? chosen.curve : null;
  const reason = reasonToLeave(fit, used);
  return reason === "" && chosen !== null
    ? { curve: chosen.curve, left, unevenness, model: chosen.model, reason }
    : { curve: null, left, unevenness, model: "none", reason };
}

function reasonToLeave(
  { visits, crossovers, chosen, ...fit }: ChannelFit,
  used: DriftOptions,
): string {
  if (visits.length + crossovers.length === 0) return "no base checks";
  if (visits.length < 2 && crossovers.length === 0) return "only one base check";
  if (chosen === null) return "too few repeats to tell drift from noise";
  if (used.model === "none") return "left as it is by option";
  return used.always ? "" : insignificance(fit, chosen, used);
}

/** Why a drift is not significant; "" where it is. */
function insignificance(
  { averaged, p, curveError, constantError }: Omit<ChannelFit, "visits" | "crossovers" | "chosen">,
  { model, explainedByScatter }: ChosenModel,
  { evidence, significance }: DriftOptions,
): string {
  const scatters = "the checks scatter, but do not drift";
  const agree = "the checks agree within their errors";
  if (Number.isNaN(p)) return "too few repeats to tell drift from noise";
  if (model === "average") {
    if ((averaged?.evidence ?? 0) > evidence) return "";
    return p < significance ? scatters : agree;
  }
  if (!(p < significance)) return agree;
  // Scatter of the spot itself (coils set down anew) is significant too, but no curve predicts it.
  return explainedByScatter && curveError > constantError ? scatters : "";
}

const HOUR_S = 3600;

/** The public record of a channel's drift. */
export function channelDrift(
  name: Pick<ChannelDrift, "campaign" | "channel">,
  fit: ChannelFit,
  { model, reason }: JudgedDrift,
): ChannelDrift {
  const { visits, crossovers, averaged } = fit;
  return {
    ...name,
    model,
    perHour: fit.perSecond * HOUR_S,
    perHourError: fit.perSecondError * HOUR_S,
    steps: fit.steps,
    residual: fit.residual,
    checks: visits.length,
    p: fit.p,
    reason,
    from: sourceOf(fit),
    pairs: crossovers.reduce((sum, { pairs }) => sum + pairs, 0),
    leftOut: leftOutOf(fit),
    odds: averaged?.odds ?? null,
    evidence: averaged?.evidence ?? Number.NaN,
    visitScatter: averaged?.scatter ?? Number.NaN,
  };
}

function sourceOf({ visits, crossovers }: ChannelFit): ChannelDrift["from"] {
  if (visits.length === 0) return crossovers.length === 0 ? "nothing" : "crossings";
  return crossovers.length === 0 ? "base checks" : "base checks and crossings";
}

function leftOutOf({ models }: ChannelFit): ChannelDrift["leftOut"] {
  const of = (model: DriftModel) => {
    const found = models.find((one) => one.model === model);
    return rootMeanSquare([...(found?.visitErrors ?? []), ...(found?.crossoverErrors ?? [])]);
  };
  return {
    average: of("average"),
    "piecewise-linear": of("piecewise-linear"),
    "random-walk": of("random-walk"),
    "smoothing-spline": of("smoothing-spline"),
  };
}
