import { type CurvePlot, type CurveSeries, curveSpec } from "../figures/curve/curve.js";
import { entryOf, groupedBy, valueAt, zipped } from "../numerics/arrays.js";
import type { Figure } from "../step/figure.js";
import { coilsText, frequencyText } from "../survey/channel-words.js";
import type { Channel } from "../survey/survey.js";
import { channelsByField } from "./channels.js";
import type { CheckVisit } from "./checks/visits.js";
import type { ChannelDrift, DriftCorrected } from "./drift.js";
import { driftFinding, stepTimes } from "./finding.js";
import type { CampaignFits } from "./models/fit-campaign.js";
import type { ChannelFit } from "./models/fit-channel.js";

/** Two standard errors each way: the error bars of a check. */
const BARS = 2;

/** One small plot a coil setting: its checks with error bars, and the curve that was taken off. */
export function driftFigures(value: DriftCorrected, fits: CampaignFits): readonly Figure[] {
  const [first] = channelsByField(value.passes);
  if (first === undefined || value.drift.every(({ from }) => from === "nothing")) return [];
  const title = driftFinding(value);
  const spec = curveSpec({
    title,
    columns: 5,
    x: { label: "Time (UTC)", scale: "time" },
    y: { label: `Drift since the first check (${first.unit})`, scale: "linear", withZero: true },
    plots: plotsOf(value, fits),
  });
  const caption =
    "Dots: mean of the repeats at one visit to the fixed spot, with two standard errors each " +
    "way, less the first visit's mean. Lines: the drift taken off the readings, as the table " +
    "names its model, in a band of two standard deviations each way; a channel without a line " +
    "was left as measured. Dashed rule: a step of the whole instrument, such as a change of " +
    "battery.";
  return [{ id: `drift-${value.label}`, title, caption, spec }];
}

function plotsOf(value: DriftCorrected, fits: CampaignFits): readonly CurvePlot[] {
  const channels = zipped(channelsByField(value.passes), value.drift);
  const settings = groupedBy(channels, ([channel]) => settingName(channel));
  const marks = stepTimes(value.drift).map((at) => ({ at, text: "step" }));
  return [...settings].map(([label, own]) => ({
    label,
    series: own.flatMap(([channel, drift]) =>
      seriesOf(channel, drift, entryOf(fits, channel.field)),
    ),
    marks,
  }));
}

/** A coil setting in words. */
function settingName(channel: Channel): string {
  return `${coilsText(channel)}, ${frequencyText(channel.frequency_Hz)}`;
}

function seriesOf(
  { kind }: Channel,
  { from, model }: ChannelDrift,
  { visits, chosen }: ChannelFit,
): readonly CurveSeries[] {
  if (from === "nothing") return [];
  const name = kind === "inphase" ? "in-phase" : kind;
  const checks: CurveSeries = { name, form: "points", ...checkBars(visits) };
  if (model === "none" || chosen === null) return [checks];
  const { time_s, drift, sd } = chosen.curve;
  const lo = drift.map((value, i) => value - BARS * valueAt(sd, i));
  const hi = drift.map((value, i) => value + BARS * valueAt(sd, i));
  return [{ name, form: "line", x: time_s, y: drift, lo, hi }, checks];
}

function checkBars(visits: readonly CheckVisit[]) {
  const level = visits[0]?.mean ?? 0;
  const bar = ({ error }: CheckVisit) => (Number.isFinite(error) ? BARS * error : 0);
  return {
    x: visits.map(({ time_s }) => time_s),
    y: visits.map(({ mean }) => mean - level),
    lo: visits.map((visit) => visit.mean - level - bar(visit)),
    hi: visits.map((visit) => visit.mean - level + bar(visit)),
  };
}
