import type { StepReport } from "../step/define-step.js";
import { countText } from "../step/show/html.js";
import type { Basis } from "../step/step-account.js";
import { accountFor } from "../survey/account/reading-status.js";
import { driftCautions } from "./cautions.js";
import type { DriftCorrected } from "./drift.js";
import { driftFigures } from "./figures.js";
import { driftFinding } from "./finding.js";
import type { RemovedDrift } from "./remove-drift.js";
import { driftTable, zeroTables } from "./tables.js";
import { isCertain } from "./zero/apply-zero.js";

/** What `correctDrift` says of itself. */
export function driftReport(removed: RemovedDrift): StepReport<DriftCorrected> {
  const { value, fits } = removed;
  return {
    value,
    summary: summaryOf(value),
    basis: BASIS,
    cautions: driftCautions(removed),
    accounting: accountFor([value]),
    figures: driftFigures(value, fits),
    tables: [driftTable(value), ...zeroTables(value)],
  };
}

const BASIS: readonly Basis[] = [
  {
    statement:
      "Repeats at a fixed spot before, during and after a walk show the instrument's drift; the " +
      "first visit is the campaign's reference level.",
    source: "common practice",
  },
  {
    statement:
      "Between visits the drift may have been none, straight, warmed up, swung or wandered, with " +
      "or without steps, and the coils may have been set down a little differently each time: " +
      "the curve is the average of all these by how likely the checks make each, and its band is " +
      "their spread.",
    source:
      "Hoeting et al. 1999, Statistical Science 14, 382–417 (model averaging); Rasmussen & " +
      "Williams 2006, Gaussian Processes for Machine Learning; Patterson & Thompson 1971, " +
      "Biometrika 58, 545–554 (restricted likelihood); sizes and shares beforehand: common " +
      "practice",
  },
  {
    statement:
      "Visits with few repeats have the noise of the walk: what a reading lies off its neighbours' " +
      "middle, less what other channels show as well.",
    source: "Matheron 1963, Economic Geology 58, 1246–1266 (nugget); common practice",
  },
  {
    statement:
      "Drift is told from none by how many times likelier the checks are with it than without.",
    source: "Kass & Raftery 1995, Journal of the American Statistical Association 90, 773–795",
  },
  {
    statement:
      "A model asked for by name wanders about a straight line, in its level (a random walk, as " +
      "a Kalman smoother takes it) or in its slope (a smoothing spline); how fast, the visits " +
      "tell.",
    source:
      "Wahba 1978, Journal of the Royal Statistical Society B 40, 364–372; Durbin & Koopman " +
      "2012, Time Series Analysis by State Space Methods; Dubrule 1983, Mathematical Geology 15, " +
      "687–699 (leaving one visit out in closed form)",
  },
  {
    statement: "Uneven checks are told from noise by an F-test of equal check means.",
    source: "Paulson 1942, Annals of Mathematical Statistics 13, 233–235 (approximation used)",
  },
];

/** What was found and done, in two sentences. */
function summaryOf(value: DriftCorrected): string {
  const corrected = value.drift.filter(({ model }) => model !== "none").length;
  const total = value.drift.length;
  const left = total - corrected;
  const rest = left > 0 ? `; ${left} left as measured` : "";
  const done = `Drift was taken off ${corrected} of ${total} channels${rest}.`;
  return `${driftFinding(value)}. ${done}${zeroText(value)}`;
}

function zeroText({ zeroLevel }: DriftCorrected): string {
  if (zeroLevel === undefined) return "";
  const taken = zeroLevel.channels.filter(isCertain).length;
  const tested = countText(zeroLevel.channels.length, "channel");
  return ` A height test gave the zero level of ${tested}; it was taken off ${taken} of them.`;
}
