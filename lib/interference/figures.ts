import { type LinesPanel, type PointsPanel, stripSpec } from "../figures/strip/strip.js";
import { firstOf, itemAt, valueAt } from "../numerics/arrays.js";
import type { Figure } from "../step/figure.js";
import { listText } from "../step/list-text.js";
import type { Channel } from "../survey/survey.js";
import { type LineProfile, lineProfiles } from "./anomaly/line-profiles.js";
import type { MaskedWork } from "./mask-campaign.js";
import type { Masked, SetAsideStretch } from "./masked.js";
import type { ScoredProfile } from "./metal/score-profile.js";
import type { MaskOptions } from "./options.js";
import { causeWords, maskFinding } from "./words.js";

/** A gap longer than this in a curve is left open, m. */
const OPEN_GAP_M = 8;

/** A strip of the most sensitive channels, the stretches set aside, and their scores. */
export function interferenceFigures(
  { value, profiles }: MaskedWork,
  { threshold }: MaskOptions,
): readonly Figure[] {
  if (profiles.length === 0) return [];
  const title = maskFinding(value);
  const panels = [...linePanels(value), scorePanel(value, profiles, threshold)];
  const setAside = value.interference.map((one) => ({
    from_m: one.from_m,
    to_m: one.to_m,
    text: bandText(one),
    detail: `${causeWords(one)}, ${one.readings} readings`,
  }));
  const caption =
    "Curves: readings in use, one curve a pass; they stop where readings are set aside (grey " +
    "bands, with what was noted there). Dots: how far the readings set aside are from anything " +
    "that layered ground could do, in standard deviations of undisturbed readings, those under 1 " +
    `drawn at 1; ${threshold} and more is detected.${alongText(value)} Silent notes are not set ` +
    "aside.";
  const spec = stripSpec({ title, panels, setAside });
  return [{ id: `interference-${value.label}`, title, caption, spec }];
}

function bandText({ object, along }: SetAsideStretch): string {
  if (object !== "") return object;
  return along ? "along the line, not noted" : "not noted";
}

function alongText({ interference }: Masked): string {
  return interference.some(({ along }) => along)
    ? " A stretch that something along the line shifts as a whole is found by its level, not by " +
        "its dots."
    : "";
}

/** The in-phase channel of lowest frequency, and the others of highest, where metal shows most. */
function linePanels(value: Masked): readonly LinesPanel[] {
  const kinds = ["inphase", "quadrature", "conductivity"] as const;
  const profiles = lineProfiles(value);
  return kinds.flatMap((kind): LinesPanel[] => {
    const shown = profiles.flatMap((profile) => {
      const channel = channelToShow(profile.channels, kind);
      return channel === null ? [] : [{ profile, channel }];
    });
    if (shown.length === 0) return [];
    const label = panelLabel(shown.map(({ channel }) => channel));
    const series = shown.map(({ profile, channel }) => ({
      name: profileName(value, profile),
      ...curveOf(profile, channel),
    }));
    return [{ kind: "lines", label, scale: "linear", series, legend: "Coils" }];
  });
}

const WORDS = { inphase: "In-phase", quadrature: "Quadrature", conductivity: "Conductivity" };

function panelLabel(channels: readonly Channel[]): string {
  const { kind, unit } = firstOf(channels);
  const frequencies = [...new Set(channels.map(({ frequency_Hz }) => frequency_Hz / 1000))];
  const separations = [...new Set(channels.map(({ separation_m }) => separation_m))];
  const coils = `${listText(frequencies.map(String))} kHz, ${listText(separations.map(String))} m`;
  return `${WORDS[kind]}, ${coils} (${unit})`;
}

/** The coils' orientation, and the line where a pass holds several or passes share orientation. */
function profileName({ passes }: Masked, { pass, channels, rows }: LineProfile): string {
  const orientations = [...new Set(channels.map(({ orientation }) => orientation))];
  const same = passes.filter(({ instrument }) =>
    instrument.channels.some(({ orientation }) => orientation === orientations[0]),
  );
  const line = new Set(pass.line).size > 1 ? `, ${pass.line[firstOf(rows)]}` : "";
  return `${orientations.join("/")}${same.length > 1 ? `, ${pass.resource}` : ""}${line}`;
}

function channelToShow(channels: readonly Channel[], kind: Channel["kind"]): Channel | null {
  const sign = kind === "inphase" ? -1 : 1;
  const [most = null] = channels
    .filter((channel) => channel.kind === kind)
    .sort((a, b) => sign * (b.frequency_Hz - a.frequency_Hz));
  return most;
}

/** Values in use, with a break where no reading lies for long. */
function curveOf({ chainage_m, values, channels }: LineProfile, channel: Channel) {
  const column = itemAt(values, channels.indexOf(channel));
  const x: number[] = [];
  const y: number[] = [];
  for (const [i, here] of chainage_m.entries()) {
    const last = x.at(-1) ?? here;
    if (here - last > OPEN_GAP_M) {
      x.push((here + last) / 2);
      y.push(Number.NaN);
    }
    x.push(here);
    y.push(valueAt(column, i));
  }
  return { x, y };
}

/** Scores of undisturbed readings lie about 0; on a log scale they are drawn here. */
const LEAST_DRAWN = 1;

function scorePanel(
  { interference }: Masked,
  profiles: readonly ScoredProfile[],
  threshold: number,
): PointsPanel {
  const points = profiles.flatMap(({ profile, score }) =>
    interference.flatMap((stretch) =>
      Array.from(profile.chainage_m, (x_m, i) => {
        return { x_m, y: Math.max(LEAST_DRAWN, valueAt(score, i)), group: causeWords(stretch) };
      }).filter(({ x_m, y }) => x_m >= stretch.from_m && x_m <= stretch.to_m && !Number.isNaN(y)),
    ),
  );
  const label = `Unlike ground (sd; ${threshold} detects)`;
  return { kind: "points", label, scale: "log", points, legend: "Readings set aside" };
}
