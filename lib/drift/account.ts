import type { Table } from "../step/figure.js";
import { countText } from "../step/show/html.js";
import type { Basis, Caution } from "../step/step-account.js";
import { reachOf } from "./apply-drift.js";
import { channelName, channelsByField } from "./channel-name.js";
import type { ChannelDrift, DriftCorrected } from "./drift.js";
import type { CampaignFits } from "./models/fit-campaign.js";
import { CERTAIN, isCertain } from "./zero/apply-zero.js";

export const driftBasis: readonly Basis[] = [
  {
    statement:
      "Repeats at a fixed spot before, during and after a walk show the instrument's drift; the first " +
      "visit is the campaign's reference level.",
    source: "common practice",
  },
  {
    statement:
      "Between visits the drift may have been none, straight, warmed up, swung or wandered, with or " +
      "without steps, and the coils may have been set down a little differently each time: the curve " +
      "is the average of all these by how likely the checks make each, and its band is their spread.",
    source:
      "Hoeting et al. 1999, Statistical Science 14, 382–417 (model averaging); Rasmussen & Williams " +
      "2006, Gaussian Processes for Machine Learning; Patterson & Thompson 1971, Biometrika 58, " +
      "545–554 (restricted likelihood); sizes and shares beforehand: common practice",
  },
  {
    statement:
      "Drift is told from none by how many times likelier the checks are with it than without.",
    source: "Kass & Raftery 1995, Journal of the American Statistical Association 90, 773–795",
  },
  {
    statement:
      "A model asked for by name wanders about a straight line, in its level (a random walk, as a " +
      "Kalman smoother takes it) or in its slope (a smoothing spline); how fast, the visits tell.",
    source:
      "Wahba 1978, Journal of the Royal Statistical Society B 40, 364–372; Durbin & Koopman 2012, " +
      "Time Series Analysis by State Space Methods; Dubrule 1983, Mathematical Geology 15, 687–699 " +
      "(leaving one visit out in closed form)",
  },
  {
    statement: "Uneven checks are told from noise by an F-test of equal check means.",
    source: "Paulson 1942, Annals of Mathematical Statistics 13, 233–235 (approximation used)",
  },
];

/** What was found and done, in two sentences. */
export function driftSummary(value: DriftCorrected): string {
  const corrected = value.drift.filter(({ model }) => model !== "none").length;
  const total = value.drift.length;
  const left = total - corrected;
  const rest = left > 0 ? `; ${left} left as measured` : "";
  const drift = `${driftFinding(value)}. Drift was taken off ${corrected} of ${total} channels${rest}.`;
  return drift + zeroText(value);
}

function zeroText({ zeroLevel }: DriftCorrected): string {
  if (zeroLevel === undefined) return "";
  const taken = zeroLevel.channels.filter(isCertain).length;
  return ` A height test gave the zero level of ${countText(zeroLevel.channels.length, "channel")}; it was taken off ${taken} of them.`;
}

/** What the height test found, as a table; none without one. */
export function zeroTables({ label, passes, zeroLevel }: DriftCorrected): readonly Table[] {
  if (zeroLevel === undefined) return [];
  const channels = new Map(channelsByField(passes).map((one) => [one.field, one]));
  const table: Table = {
    id: `zero-level-${label}`,
    caption:
      "Zero level by channel, from readings at several heights over one spot: taken off where it " +
      `exceeds ${CERTAIN} standard errors. The fit misses the readings by ${zeroLevel.misfit.toFixed(2)} standard deviations of the noise (near 1 is well).`,
    columns: [
      { field: "channel", label: "Channel" },
      { field: "unit", label: "Unit" },
      { field: "offset", label: "Zero level", digits: 1 },
      { field: "error", label: "± one standard error", digits: 1 },
      { field: "done", label: "Done" },
    ],
    rows: zeroLevel.channels.map((one) => ({
      channel: channelName(channels.get(one.channel)!),
      unit: channels.get(one.channel)!.unit,
      offset: one.offset,
      error: one.error,
      done: isCertain(one) ? "taken off" : "left: not told from 0",
    })),
  };
  return [table];
}

/** The finding as a title, without a full stop. */
export function driftFinding(value: DriftCorrected): string {
  const known = value.drift.filter(({ perHour }) => Number.isFinite(perHour));
  if (known.length === 0) return `No base checks tell the drift of campaign ${value.label}`;
  const channels = new Map(channelsByField(value.passes).map((one) => [one.field, one]));
  const unit = channels.get(known[0]!.channel)!.unit;
  const alike = known.filter(({ channel }) => channels.get(channel)!.unit === unit);
  const most = alike.reduce((a, b) => (Math.abs(b.perHour) > Math.abs(a.perHour) ? b : a));
  const rate = `${Math.abs(most.perHour).toFixed(unit === "ppm" ? 0 : 2)} ${unit}/h`;
  const name = channelName(channels.get(most.channel)!);
  return `Drift up to ${rate} (${name}) in campaign ${value.label}; ${stepText(value.drift)}`;
}

function stepText(drift: readonly ChannelDrift[]): string {
  const times = stepTimes(drift);
  if (times.length === 0) return "no step";
  const clock = times.map((time_s) => new Date(time_s * 1000).toISOString().slice(11, 16));
  const word = times.length === 1 ? "one step" : `${times.length} steps`;
  return `${word} at ${clock.join(", ")} UTC`;
}

/** Times of the steps of all channels, those within a quarter of an hour taken as one. */
export function stepTimes(drift: readonly ChannelDrift[]): readonly number[] {
  const all = drift.flatMap(({ steps }) => steps.map(({ time_s }) => time_s));
  const times: number[] = [];
  for (const time_s of [...all].sort((a, b) => a - b)) {
    if (!(time_s - (times.at(-1) ?? Number.NEGATIVE_INFINITY) <= 900)) times.push(time_s);
  }
  return times;
}

export function driftCautions(value: DriftCorrected, fits: CampaignFits): readonly Caution[] {
  const texts = [
    ...noneTexts(value),
    ...crossingTexts(value),
    ...zeroCautions(value),
    ...reachTexts(value, fits),
    ...checkTexts(value, fits),
  ];
  return texts.map((text) => ({ step: "correctDrift", text }));
}

function noneTexts({ label, drift }: DriftCorrected): readonly string[] {
  const worth = [
    "no base checks",
    "only one base check",
    "too few repeats to tell drift from noise",
  ];
  return worth.flatMap((reason) => {
    const fields = drift.filter((one) => one.reason === reason).map(({ channel }) => channel);
    if (fields.length === 0) return [];
    const names = fields.length > 6 ? `${fields.length} channels` : fields.join(", ");
    return [`Campaign ${label}, ${names}: ${reason}, so any drift is still in the values.`];
  });
}

/** A misfit from which the ground under the height test is not what was fitted. */
const ILL_FITTED = 2;

function zeroCautions({ label, zeroLevel }: DriftCorrected): readonly string[] {
  if (zeroLevel === undefined || !(zeroLevel.misfit > ILL_FITTED)) return [];
  return [
    `Campaign ${label}: the height test is fitted ${zeroLevel.misfit.toFixed(1)} times worse than the noise; there may be metal near the spot, or more than two layers.`,
  ];
}

/** Crossings stand in for checks; what they cannot tell is said. */
function crossingTexts({ label, drift }: DriftCorrected): readonly string[] {
  const told = drift.filter(({ from }) => from !== "nothing" && from !== "base checks");
  if (told.length === 0) return [];
  const pairs = told.reduce((most, one) => Math.max(most, one.pairs), 0);
  const alone = told.filter(({ from }) => from === "crossings").length;
  const checks = alone === told.length ? "without base checks" : "with few base checks";
  return [
    `Campaign ${label}: ${countText(told.length, "channel")} ${checks}; the drift was told from readings at the same place at different times (up to ${countText(pairs, "pair")} a channel). A change that comes and goes between them, and the level itself, are not seen by it.`,
  ];
}

function reachTexts({ label, passes, drift }: DriftCorrected, fits: CampaignFits): string[] {
  const done = drift.filter(({ model }) => model !== "none").map(({ channel }) => channel);
  const curves = new Map(done.map((field) => [field, fits.get(field)!.chosen!.curve]));
  return passes.flatMap((pass) => {
    const { outside, timeless } = reachOf(pass, curves);
    const where = `Campaign ${label}, ${pass.file}:`;
    const out = `${where} ${outside} readings lie before the first or after the last base check; their drift was taken as that of the nearest check.`;
    const none = `${where} ${timeless} readings have no time; their drift was not taken off.`;
    return [...(outside > 0 ? [out] : []), ...(timeless > 0 ? [none] : [])];
  });
}

function checkTexts({ label, baseChecks }: DriftCorrected, fits: CampaignFits): string[] {
  const texts: string[] = [];
  const bad = [...fits.values()].flatMap(({ groups }) => groups.map((group) => group.bad));
  const count = bad.reduce((sum, n) => sum + n, 0);
  if (count > 0) {
    texts.push(
      `Campaign ${label}: ${countText(count, "base-check value")} left out as bad repeats.`,
    );
  }
  const spots = new Set(baseChecks.map(({ spot }) => spot));
  if (spots.size > 1) {
    const names = [...spots].join(", ");
    texts.push(
      `Campaign ${label}: base checks at several spots (${names}); each channel uses the one with most.`,
    );
  }
  return texts;
}
