import type { ChannelDrift } from "./drift.js";
import type { DriftCurve } from "./models/drift-curve.js";
import type { ChosenModel } from "./models/drift-models.js";
import type { ChannelFit } from "./models/fit-channel.js";
import type { DriftOptions } from "./options.js";
import { type Spell, type UntoldSd, untoldSd } from "./untold-drift.js";

/** What becomes of one channel's values. */
export interface JudgedDrift {
  /** The curve to take off; null where the values stay. */
  readonly curve: DriftCurve | null;
  /** The estimate of what stays in the values where no curve is taken off; null for none. */
  readonly left: DriftCurve | null;
  /** Standard deviation of what stays where there is no estimate. */
  readonly unevenness: number;
  /** The standard deviation at a time with what no check tells, from the one with what they do. */
  readonly untold: UntoldSd;
  readonly model: ChannelDrift["model"];
  /** Why the values are left; "" where they are corrected. */
  readonly reason: string;
}

/** A channel's values are corrected where its drift is significant, else left as they are. */
export function judgeDrift(
  fit: ChannelFit,
  used: DriftOptions,
  spells: readonly Spell[],
): JudgedDrift {
  const { chosen, unevenness } = fit;
  const untold = untoldSd(fit, spells);
  const left = chosen?.model === "average" ? chosen.curve : null;
  const reason = reasonToLeave(fit, used);
  return reason === "" && chosen !== null
    ? { curve: chosen.curve, left, unevenness, untold, model: chosen.model, reason }
    : { curve: null, left, unevenness, untold, model: "none", reason };
}

function reasonToLeave(fit: ChannelFit, used: DriftOptions): string {
  const { from, checks, p } = fit.estimate;
  if (from === "nothing") return "no base checks";
  if (from === "base checks" && checks < 2) return "only one base check";
  if (fit.chosen === null) return "too few repeats to tell drift from noise";
  if (used.model === "none") return "left as it is by option";
  if (used.always) return "";
  if (Number.isNaN(p)) return "too few repeats to tell drift from noise";
  return insignificance(fit, fit.chosen, used);
}

/** Why a drift is not significant; "" where it is. */
function insignificance(
  { estimate, failsToPredict }: ChannelFit,
  { model, explainedByScatter }: ChosenModel,
  used: DriftOptions,
): string {
  const scatters = "the checks scatter, but do not drift";
  const agree = "the checks agree within their errors";
  const isUneven = estimate.p < used.significance;
  if (model === "average") {
    if (estimate.evidence > used.evidence) return "";
    return isUneven ? scatters : agree;
  }
  if (!isUneven) return agree;
  // Scatter of the spot itself (coils set down anew) is significant too, but no curve predicts it.
  return failsToPredict && explainedByScatter() ? scatters : "";
}
