import {
  type LinesPanel,
  type PointsPanel,
  type StripPoint,
  stripSpec,
} from "../figures/strip/strip.js";
import type { Figure } from "../step/figure.js";
import { listText } from "../step/list-text.js";
import type { Channel } from "../survey/survey.js";
import type { MaskedWork } from "./mask.js";
import type { Masked, SetAsideStretch } from "./masked.js";
import type { TrackScore } from "./metal/score.js";
import type { MaskOptions } from "./options.js";
import { causeWords, maskFinding } from "./words.js";

/** A gap longer than this in a curve is left open, m. */
const OPEN_GAP_M = 8;

/** A strip of the most telling channels, the stretches set aside, and the scores behind them. */
export function interferenceFigures(
  { value, scored }: MaskedWork,
  used: MaskOptions,
): readonly Figure[] {
  if (scored.length === 0) return [];
  const title = maskFinding(value);
  const spec = stripSpec({
    title,
    panels: [...linePanels(value, scored), scorePanel(value, scored, used)],
    setAside: value.interference.map((one) => ({
      from_m: one.from_m,
      to_m: one.to_m,
      text: bandText(one),
      detail: `${causeWords(one)}, ${one.readings} readings`,
    })),
  });
  const caption =
    "Curves: readings in use, one curve a pass; they stop where readings are set aside (grey bands, " +
    "with what was noted there). Dots: how far the readings set aside are from anything that layered " +
    `ground could do, in standard deviations of undisturbed readings, those under 1 drawn at 1; ` +
    `${used.threshold} and more is detected.${alongText(value)} Silent notes are not set aside.`;
  return [{ id: `interference-${value.label}`, title, caption, spec }];
}

function bandText({ object, along }: SetAsideStretch): string {
  if (object !== "") return object;
  return along ? "along the line, not noted" : "not noted";
}

function alongText({ interference }: Masked): string {
  return interference.some(({ along }) => along)
    ? " A stretch that something along the line shifts as a whole is found by its level, not by its dots."
    : "";
}

/** The lowest in-phase channel and the highest quadrature one say most; else the first there is. */
function linePanels(value: Masked, scored: readonly TrackScore[]): readonly LinesPanel[] {
  const kinds = ["inphase", "quadrature", "conductivity"] as const;
  return kinds.flatMap((kind): LinesPanel[] => {
    const told = scored.flatMap((one) => {
      const c = tellingChannel(one.track.channels, kind);
      return c < 0 ? [] : [{ scored: one, c, channel: one.track.channels[c]! }];
    });
    if (told.length === 0) return [];
    const label = panelLabel(told.map(({ channel }) => channel));
    const series = told.map(({ scored: one, c }) => ({
      name: trackName(value, one),
      ...curveOf(value, one, c),
    }));
    return [{ kind: "lines", label, scale: "linear", series, legend: "Coils" }];
  });
}

const WORDS = { inphase: "In-phase", quadrature: "Quadrature", conductivity: "Conductivity" };

function panelLabel(channels: readonly Channel[]): string {
  const { kind, unit } = channels[0]!;
  const frequencies = [...new Set(channels.map(({ frequency_Hz }) => frequency_Hz / 1000))];
  return `${WORDS[kind]}, ${listText(frequencies.map(String))} kHz (${unit})`;
}

/** The coils' orientation, and the line where a pass holds several or passes share orientation. */
function trackName(value: Masked, { track }: TrackScore): string {
  const { pass } = track;
  const orientation = [...new Set(track.channels.map((channel) => channel.orientation))].join("/");
  const alike = value.passes.filter(({ instrument }) =>
    instrument.channels.some((channel) => channel.orientation === track.channels[0]!.orientation),
  );
  const line = new Set(pass.line).size > 1 ? `, ${pass.line[track.rows[0]!]}` : "";
  return `${orientation}${alike.length > 1 ? `, ${pass.resource}` : ""}${line}`;
}

function tellingChannel(channels: readonly Channel[], kind: Channel["kind"]): number {
  const sign = kind === "inphase" ? -1 : 1;
  return channels.reduce((best, channel, c) => {
    if (channel.kind !== kind) return best;
    const before = channels[best];
    return before === undefined || sign * (channel.frequency_Hz - before.frequency_Hz) > 0
      ? c
      : best;
  }, -1);
}

function curveOf(value: Masked, { track }: TrackScore, c: number) {
  const pass = value.passes.find(({ resource }) => resource === track.pass.resource)!;
  const x: number[] = [];
  const y: number[] = [];
  for (const i of track.rows) {
    const here = pass.chainage_m[i]!;
    const last = x.at(-1) ?? here;
    if (here - last > OPEN_GAP_M) {
      x.push((here + last) / 2);
      y.push(Number.NaN);
    }
    x.push(here);
    y.push(pass.setAside[c]![i] === 0 ? pass.values[c]![i]! : Number.NaN);
  }
  return { x, y };
}

function scorePanel(value: Masked, scored: readonly TrackScore[], used: MaskOptions): PointsPanel {
  const points = scored.flatMap(({ track, score }) =>
    value.interference.flatMap((stretch) => pointsIn(stretch, track.chainage_m, score)),
  );
  const label = `Unlike ground (sd; ${used.threshold} detects)`;
  return { kind: "points", label, scale: "log", points, legend: "Readings set aside" };
}

/** Scores of undisturbed readings lie about 0; on a log scale they are drawn here. */
const LEAST_DRAWN = 1;

function pointsIn(
  stretch: SetAsideStretch,
  chainage_m: Float64Array,
  score: Float64Array,
): readonly StripPoint[] {
  const points: StripPoint[] = [];
  for (const [i, x_m] of chainage_m.entries()) {
    if (!(x_m >= stretch.from_m && x_m <= stretch.to_m) || Number.isNaN(score[i])) continue;
    points.push({ x_m, y: Math.max(LEAST_DRAWN, score[i]!), group: causeWords(stretch) });
  }
  return points;
}
