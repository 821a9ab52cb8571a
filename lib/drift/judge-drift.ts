import type { ChannelDrift, DriftModel } from "./drift.js";
import type { ChosenModel } from "./models/drift-models.js";
import { type ChannelFit, rootMeanSquare } from "./models/fit-channel.js";
import type { DriftOptions } from "./options.js";

const HOUR_S = 3600;

/** A channel's drift, and whether its values are to be corrected or left as they are. */
export function judgeDrift(
  name: Pick<ChannelDrift, "campaign" | "channel">,
  fit: ChannelFit | undefined,
  used: DriftOptions,
): ChannelDrift {
  const { model, reason } = verdictOn(fit, used);
  return {
    ...name,
    model,
    perHour: (fit?.perSecond ?? Number.NaN) * HOUR_S,
    perHourError: (fit?.perSecondError ?? Number.NaN) * HOUR_S,
    steps: fit?.steps ?? [],
    residual: fit?.residual ?? Number.NaN,
    checks: fit?.visits.length ?? 0,
    p: fit?.p ?? Number.NaN,
    reason,
    from: sourceOf(fit),
    pairs: fit?.crossovers.reduce((sum, { pairs }) => sum + pairs, 0) ?? 0,
    leftOut: leftOutOf(fit),
    odds: fit?.averaged?.odds ?? null,
    evidence: fit?.averaged?.evidence ?? Number.NaN,
    visitScatter: fit?.averaged?.scatter ?? Number.NaN,
  };
}

function sourceOf(fit: ChannelFit | undefined): ChannelDrift["from"] {
  const hasChecks = (fit?.visits.length ?? 0) > 0;
  const hasCrossovers = (fit?.crossovers.length ?? 0) > 0;
  if (hasChecks && hasCrossovers) return "base checks and crossings";
  if (hasChecks) return "base checks";
  return hasCrossovers ? "crossings" : "nothing";
}

function leftOutOf(fit: ChannelFit | undefined): ChannelDrift["leftOut"] {
  const of = (model: DriftModel) => {
    const found = fit?.models.find((one) => one.model === model);
    return rootMeanSquare([...(found?.visitErrors ?? []), ...(found?.crossoverErrors ?? [])]);
  };
  return {
    average: of("average"),
    "piecewise-linear": of("piecewise-linear"),
    "random-walk": of("random-walk"),
    "smoothing-spline": of("smoothing-spline"),
  };
}

/** The model to take off; "none" with the reason why the values are left. */
function verdictOn(
  fit: ChannelFit | undefined,
  used: DriftOptions,
): Pick<ChannelDrift, "model" | "reason"> {
  if (fit === undefined) return left("no base checks");
  const { chosen } = fit;
  if (fit.visits.length < 2 && fit.crossovers.length === 0) return left("only one base check");
  if (chosen === null) return left("too few repeats to tell drift from noise");
  if (used.model === "none") return left("left as it is by option");
  const reason = used.always ? "" : insignificance(fit, chosen, used);
  return reason === "" ? { model: chosen.model, reason } : left(reason);
}

function left(reason: string): Pick<ChannelDrift, "model" | "reason"> {
  return { model: "none", reason };
}

/** Why a drift is not significant; "" where it is. */
function insignificance(
  { averaged, p, curveError, constantError }: ChannelFit,
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
