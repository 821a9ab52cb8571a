import type { ChannelDrift, DriftModel } from "./drift.js";
import { missOn } from "./models/drift-models.js";
import type { ChannelFit } from "./models/fit-channel.js";
import type { DriftOptions } from "./options.js";

const HOUR_S = 3600;

/** A channel's drift, and whether its values are to be corrected or left as they are. */
export function judgeDrift(
  name: Pick<ChannelDrift, "campaign" | "channel">,
  fit: ChannelFit | undefined,
  used: DriftOptions,
): ChannelDrift {
  const reason = reasonForNone(fit, used);
  return {
    ...name,
    model: reason === "" ? fit!.chosen!.model : "none",
    perHour: (fit?.perSecond ?? Number.NaN) * HOUR_S,
    perHourError: (fit?.perSecondError ?? Number.NaN) * HOUR_S,
    steps: fit?.steps ?? [],
    residual: fit?.residual ?? Number.NaN,
    checks: fit?.groups.length ?? 0,
    p: fit?.p ?? Number.NaN,
    reason,
    from: evidenceOf(fit),
    pairs: fit?.crossings.reduce((sum, { pairs }) => sum + pairs, 0) ?? 0,
    leftOut: leftOutOf(fit),
    odds: fit?.averaged?.odds ?? null,
    evidence: fit?.averaged?.evidence ?? Number.NaN,
    visitScatter: fit?.averaged?.scatter ?? Number.NaN,
  };
}

function evidenceOf(fit: ChannelFit | undefined): ChannelDrift["from"] {
  const [checks, crossings] = [(fit?.groups.length ?? 0) > 0, (fit?.crossings.length ?? 0) > 0];
  if (checks && crossings) return "base checks and crossings";
  if (checks) return "base checks";
  return crossings ? "crossings" : "nothing";
}

function leftOutOf(fit: ChannelFit | undefined): ChannelDrift["leftOut"] {
  const of = (model: DriftModel) => {
    const found = fit?.models.find((one) => one.model === model);
    if (found === undefined) return Number.NaN;
    const misses = [...found.misses, ...found.crossingMisses];
    return missOn(misses, misses);
  };
  return {
    average: of("average"),
    "piecewise-linear": of("piecewise-linear"),
    "random-walk": of("random-walk"),
    "smoothing-spline": of("smoothing-spline"),
  };
}

function reasonForNone(fit: ChannelFit | undefined, used: DriftOptions): string {
  if (fit === undefined) return "no base checks";
  if (fit.groups.length < 2 && fit.crossings.length === 0) return "only one base check";
  if (fit.chosen === null) return "too few repeats to tell drift from noise";
  if (used.model === "none") return "left as it is by option";
  if (used.always) return "";
  if (Number.isNaN(fit.p)) return "too few repeats to tell drift from noise";
  if (fit.chosen.model === "average") return reasonByAverage(fit, used);
  if (!(fit.p < used.significance)) return "the checks agree within their errors";
  // Scatter of the spot itself (coils set down anew) looks significant, but no curve foretells it.
  if (fit.chosen.scattersRather && fit.missCurve > fit.missConstant)
    return "the checks scatter, but do not drift";
  return "";
}

function reasonByAverage(
  { averaged, p }: ChannelFit,
  { evidence, significance }: DriftOptions,
): string {
  if (averaged!.evidence > evidence) return "";
  return p < significance
    ? "the checks scatter, but do not drift"
    : "the checks agree within their errors";
}
