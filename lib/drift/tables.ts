import { entryOf } from "../numerics/arrays.js";
import type { Table } from "../step/figure.js";
import { significantText } from "../step/number-text.js";
import { channelText } from "../survey/channel-words.js";
import type { Channel } from "../survey/survey.js";
import { channelMap } from "./channels.js";
import type { ChannelDrift, DriftCorrected, DriftKind } from "./drift.js";
import { CERTAIN, isCertain } from "./zero/apply-zero.js";

/** What was found and done, one row a channel. */
export function driftTable({ label, passes, drift }: DriftCorrected): Table {
  const channels = channelMap(passes);
  return {
    id: `drift-${label}`,
    caption:
      "Drift by channel: mean slope without steps and its standard error, sum of the steps, " +
      "scatter of the base checks about the curve that the other checks give, root mean square " +
      "by which each model misses checks that it was not shown, how likely the checks make each " +
      "kind of drift (those of one in twenty and more; steady: nothing but steps), how many " +
      "times likelier they are with a drift or a step than without, and the model taken.",
    columns: COLUMNS,
    rows: drift.map((one) => rowOf(one, entryOf(channels, one.channel))),
  };
}

const COLUMNS: Table["columns"] = [
  { field: "channel", label: "Channel" },
  { field: "unit", label: "Unit" },
  { field: "perHour", label: "Drift per hour", digits: 1 },
  { field: "perHourError", label: "± one standard error", digits: 1 },
  { field: "step", label: "Steps", digits: 1 },
  { field: "residual", label: "Scatter of checks", digits: 1 },
  { field: "checks", label: "Checks" },
  { field: "average", label: "Missed by: average", digits: 1 },
  { field: "linear", label: "straight pieces", digits: 1 },
  { field: "walk", label: "random walk", digits: 1 },
  { field: "spline", label: "spline", digits: 1 },
  { field: "odds", label: "Kinds of drift" },
  { field: "evidence", label: "Evidence" },
  { field: "model", label: "Model" },
  { field: "done", label: "Done" },
];

function rowOf(one: ChannelDrift, channel: Channel): Table["rows"][number] {
  return {
    channel: channelText(channel),
    unit: channel.unit,
    perHour: orNull(one.perHour),
    perHourError: orNull(one.perHourError),
    step: one.steps.length > 0 ? one.steps.reduce((sum, { size }) => sum + size, 0) : null,
    residual: orNull(one.residual),
    checks: one.checks,
    average: orNull(one.leftOut.average),
    linear: orNull(one.leftOut["piecewise-linear"]),
    walk: orNull(one.leftOut["random-walk"]),
    spline: orNull(one.leftOut["smoothing-spline"]),
    odds: oddsText(one),
    evidence: evidenceText(one),
    model: MODEL_WORDS[one.model],
    done: one.reason === "" ? "corrected" : `left: ${one.reason}`,
  };
}

/** What the height test found, as a table; none without one. */
export function zeroTables({ label, passes, zeroLevel }: DriftCorrected): readonly Table[] {
  if (zeroLevel === undefined) return [];
  const channels = channelMap(passes);
  return [
    {
      id: `zero-level-${label}`,
      caption:
        "Zero level by channel, from readings at several heights over one spot: taken off where it " +
        `exceeds ${CERTAIN} standard errors. The fit misses the readings by ` +
        `${zeroLevel.misfit.toFixed(2)} standard deviations of the noise (near 1 is well).`,
      columns: [
        { field: "channel", label: "Channel" },
        { field: "unit", label: "Unit" },
        { field: "offset", label: "Zero level", digits: 1 },
        { field: "error", label: "± one standard error", digits: 1 },
        { field: "done", label: "Done" },
      ],
      rows: zeroLevel.channels.map((one) => ({
        channel: channelText(entryOf(channels, one.channel)),
        unit: entryOf(channels, one.channel).unit,
        offset: one.offset,
        error: one.error,
        done: isCertain(one) ? "taken off" : "left: not told from 0",
      })),
    },
  ];
}

const MODEL_WORDS = {
  average: "average",
  "piecewise-linear": "straight pieces",
  "random-walk": "random walk",
  "smoothing-spline": "spline",
  none: "none",
};

const KIND_WORDS: Readonly<Record<DriftKind, string>> = Object.freeze({
  steady: "steady",
  straight: "straight",
  "warm-up": "warm-up",
  swinging: "swing",
  wandering: "wander",
});

/** Kinds less probable than this are left out. */
const LEAST_SHOWN = 0.05;

function oddsText({ odds }: ChannelDrift): string | null {
  if (odds === null) return null;
  const kinds = (Object.keys(KIND_WORDS) as DriftKind[]).filter(
    (kind) => odds[kind] >= LEAST_SHOWN,
  );
  kinds.sort((a, b) => odds[b] - odds[a]);
  return kinds.map((kind) => `${KIND_WORDS[kind]} ${Math.round(100 * odds[kind])} %`).join(", ");
}

/** Beyond these a Bayes factor is not shown as a number. */
const [SLIGHT, PLENTY] = [0.1, 1000];

function evidenceText({ evidence }: ChannelDrift): string | null {
  if (Number.isNaN(evidence)) return null;
  if (evidence > PLENTY) return `over ${PLENTY}`;
  return evidence < SLIGHT ? `under ${SLIGHT}` : significantText(evidence, 2);
}

function orNull(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}
