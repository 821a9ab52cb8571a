import {
  type CurveFigure,
  type CurvePlot,
  type CurveSeries,
  curveSpec,
} from "../figures/curve/curve.js";
import type { Figure } from "../step/figure.js";
import type { Channel } from "../survey/survey.js";
import { channelsByField } from "./channel-name.js";
import type { ChannelDrift, DriftCorrected } from "./drift.js";
import { driftFinding, stepTimes } from "./finding.js";
import type { CampaignFits } from "./models/fit-campaign.js";
import type { ChannelFit } from "./models/fit-channel.js";

/** Two standard errors each way: the error bars of a check. */
const BARS = 2;

/** One small plot a coil setting: its checks with error bars, and the curve that was taken off. */
export function driftFigures(value: DriftCorrected, fits: CampaignFits): readonly Figure[] {
  if (fits.size === 0) return [];
  const title = driftFinding(value);
  const unit = channelsByField(value.passes)[0]!.unit;
  const figure: CurveFigure = {
    title,
    columns: 5,
    x: { label: "Time (UTC)", scale: "time" },
    y: { label: `Drift since the first check (${unit})`, scale: "linear", withZero: true },
    plots: plotsOf(value, fits),
  };
  const caption =
    "Dots: mean of the repeats at one visit to the fixed spot, with two standard errors each way, less " +
    "the first visit's mean. Lines: the drift taken off the readings, as the table names its model, in " +
    "a band of two standard deviations each way; a channel without a line was left as measured. Dashed rule: a step of the whole instrument, such as a change of battery.";
  return [{ id: `drift-${value.label}`, title, caption, spec: curveSpec(figure) }];
}

function plotsOf(value: DriftCorrected, fits: CampaignFits): readonly CurvePlot[] {
  const settings = new Map<string, Channel[]>();
  for (const channel of channelsByField(value.passes)) {
    const name = settingName(channel, value);
    settings.set(name, [...(settings.get(name) ?? []), channel]);
  }
  const marks = stepTimes(value.drift).map((at) => ({ at, text: "step" }));
  return [...settings].map(([label, channels]) => ({
    label,
    series: channels.flatMap((channel) => {
      const drift = value.drift.find((one) => one.channel === channel.field)!;
      return seriesOf(channel, drift, fits.get(channel.field));
    }),
    marks,
  }));
}

/** A coil setting in words; the separation is only said where the instrument has several. */
function settingName(channel: Channel, { passes }: DriftCorrected): string {
  const all = passes.flatMap(({ instrument }) => instrument.channels);
  const several = new Set(all.map(({ separation_m }) => separation_m)).size > 1;
  const separation = several ? `, ${channel.separation_m} m` : "";
  return `${channel.orientation}, ${channel.frequency_Hz / 1000} kHz${separation}`;
}

function seriesOf(
  channel: Channel,
  drift: ChannelDrift,
  fit: ChannelFit | undefined,
): readonly CurveSeries[] {
  if (fit === undefined) return [];
  const name = channel.kind === "inphase" ? "in-phase" : channel.kind;
  const { groups, chosen } = fit;
  const level = groups[0]?.mean ?? 0;
  const bar = groups.map(({ error }) => (Number.isFinite(error) ? BARS * error : 0));
  const checks: CurveSeries = {
    name,
    form: "points",
    x: groups.map(({ time_s }) => time_s),
    y: groups.map(({ mean }) => mean - level),
    lo: groups.map(({ mean }, i) => mean - level - bar[i]!),
    hi: groups.map(({ mean }, i) => mean - level + bar[i]!),
  };
  if (drift.model === "none" || chosen === null) return [checks];
  const { time_s, drift: y, sd } = chosen.curve;
  const lo = y.map((value, i) => value - BARS * sd[i]!);
  const hi = y.map((value, i) => value + BARS * sd[i]!);
  return [{ name, form: "line", x: time_s, y, lo, hi }, checks];
}
