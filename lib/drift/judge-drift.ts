import type { ChannelDrift } from "./drift.js";
import type { DriftOptions } from "./drift-options.js";
import type { ChannelFit } from "./fit-channel.js";

const HOUR_S = 3600;

/** A channel's drift, and whether its values are to be corrected or left as they are. */
export function judgeDrift(
  name: Pick<ChannelDrift, "campaign" | "channel">,
  fit: ChannelFit | undefined,
  used: Required<DriftOptions>,
): ChannelDrift {
  const reason = reasonForNone(fit, used);
  return {
    ...name,
    model: reason === "" ? "piecewise-linear" : "none",
    perHour: (fit?.perSecond ?? Number.NaN) * HOUR_S,
    perHourError: (fit?.perSecondError ?? Number.NaN) * HOUR_S,
    steps: fit?.steps ?? [],
    residual: fit?.residual ?? Number.NaN,
    checks: fit?.groups.length ?? 0,
    p: fit?.p ?? Number.NaN,
    reason,
  };
}

function reasonForNone(fit: ChannelFit | undefined, used: Required<DriftOptions>): string {
  if (fit === undefined) return "no base checks";
  if (fit.groups.length < 2) return "only one base check";
  if (used.model === "none") return "left as it is by option";
  if (used.always) return "";
  if (Number.isNaN(fit.p)) return "too few repeats to tell drift from noise";
  if (!(fit.p < used.significance)) return "the checks agree within their errors";
  // Scatter of the spot itself (coils set down anew) looks significant, but no curve foretells it.
  if (fit.missCurve > fit.missConstant) return "the checks scatter, but do not drift";
  return "";
}
