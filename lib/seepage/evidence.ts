import type { Blocks } from "../blocks/blocks.js";
import type { Changes } from "../campaigns/pair/changes.js";
import type { DepthSlices } from "../depth/depth-slices.js";
import { itemAt, valueAt } from "../numerics/arrays.js";
import { NORMAL_90, normalTail } from "../numerics/statistics/normal.js";
import { presentMean } from "../numerics/statistics/present.js";
import type { Incident, Survey } from "../survey/survey.js";
import type { EvidenceName } from "./seepage.js";

/** A piece of evidence along the cells: how far it is present, and how to say so. */
export interface Presence {
  readonly name: EvidenceName;
  /** n values 0 … 1; NaN where nothing is known. */
  readonly value: Float64Array;
  /** A sentence for a stretch, given the mean value over it. */
  readonly statement: (value: number, from_m: number, to_m: number) => string;
}

/** The cells' centres along chainage, and the half-width of a cell. */
export interface Cells {
  readonly chainage_m: Float64Array;
  readonly half_m: number;
}

/**
 * Probability that ground more resistive than the threshold lies within the reliable depth but
 * below the first slice (or in the only slice), from the slices' own uncertainty.
 */
export function perviousLayer(
  cells: Cells,
  slices: DepthSlices,
  threshold_ohm_m: number,
): Presence {
  const limit = Math.log10(threshold_ohm_m);
  const value = overCells(cells, slices, (i) => {
    const layer = mostResistive(slices, i);
    if (layer === null) return Number.NaN;
    const off = layer.log10 - limit;
    return above(off / (off > 0 ? layer.down : layer.up));
  });
  return {
    name: "pervious layer",
    value,
    statement: (share) =>
      `${percent(share)} likely that ground over ${threshold_ohm_m.toFixed(0)} ohm-m lies ` +
      `within ${deepestReliable(slices).toFixed(1)} m of the crest surface.`,
  };
}

/** Probability that the first slice conducts at least `ratio` times better than what lies below. */
export function thinBlanket(cells: Cells, slices: DepthSlices, ratio: number): Presence {
  const contrast = Math.log10(ratio);
  const value = overCells(cells, slices, (i) => {
    const layer = mostResistive(slices, i);
    if (layer === null || layer.slice === 0) return Number.NaN;
    const first = estimateAt(slices, 0, i);
    const off = layer.log10 - first.log10 - contrast;
    const sides = off > 0 ? [first.up, layer.down] : [first.down, layer.up];
    return above(off / Math.hypot(...sides));
  });
  const top = slices.slices[0];
  return {
    name: "thin blanket",
    value,
    statement: (share) =>
      `${percent(share)} likely that the upper ${top?.base_m.toFixed(1) ?? "?"} m conducts at ` +
      `least ${ratio.toFixed(1)} times better than a layer below it.`,
  };
}

/** Stretches whose resistivity was lower in the campaign with the higher river. */
export function wetterAtHighWater(
  cells: Cells,
  changes: readonly Changes[],
  survey: Survey,
): Presence {
  const compared = changes.flatMap((change) => {
    const rise = riverRise(survey, change);
    return rise !== null && Math.abs(rise) >= 0.3 ? [{ change, rise }] : [];
  });
  const value = cells.chainage_m.map((x) => {
    const known = compared.filter(
      ({ change }) => !change.unknown.some((gap) => gap.from_m <= x && x <= gap.to_m),
    );
    if (known.length === 0) return Number.NaN;
    const wetter = known.some(({ change, rise }) =>
      change.changes.some(
        (stretch) =>
          stretch.from_m - cells.half_m <= x &&
          x <= stretch.to_m + cells.half_m &&
          stretch.direction === (rise > 0 ? "fell" : "rose"),
      ),
    );
    return wetter ? 1 : 0;
  });
  return { name: "wetter at high water", value, statement: (share) => wetterText(share) };
}

function wetterText(share: number): string {
  if (share > 0) return "Resistivity was lower while the river stood higher.";
  return "No significant fall of resistivity while the river stood higher.";
}

/** River level at the later campaign minus that at the earlier, m; null where not recorded. */
export function riverRise(
  survey: Survey,
  pair: { readonly earlier: string; readonly later: string },
): number | null {
  const level = (label: string): number => {
    const campaign = survey.campaigns.find((entry) => entry.label === label);
    const time = campaign?.passes[0]?.time_s.find((t) => !Number.isNaN(t)) ?? Number.NaN;
    const near = survey.waterLevels
      .filter((entry) => entry.point === "river")
      .map((entry) => ({ level: entry.level_m, apart: Math.abs(entry.time_s - time) }))
      .filter((entry) => entry.apart <= 7 * 86_400)
      .sort((one, two) => one.apart - two.apart);
    return near[0]?.level ?? Number.NaN;
  };
  const rise = level(pair.later) - level(pair.earlier);
  return !Number.isNaN(rise) ? rise : null;
}

const SEEPAGE_WORDS = /boil|wet|seep|leak|piping|spring|sand cone/i;

/** Nearness to a recorded incident of water or sand coming out, fading over `reach_m`. */
export function recordedIncident(
  cells: Cells,
  incidents: readonly Incident[],
  reach_m: number,
): Presence {
  const wet = incidents.filter((entry) => SEEPAGE_WORDS.test(`${entry.kind} ${entry.text}`));
  const value = cells.chainage_m.map((x) =>
    wet.reduce((most, entry) => Math.max(most, fading(x - entry.chainage_m, reach_m)), 0),
  );
  return {
    name: "recorded incident",
    value,
    statement: (_, from_m, to_m) => {
      const near = wet.filter(
        (entry) => entry.chainage_m >= from_m - reach_m && entry.chainage_m <= to_m + reach_m,
      );
      if (near.length === 0) return "No recorded incident nearby.";
      const list = near.map((entry) => `${entry.kind} at ${entry.chainage_m.toFixed(0)} m`);
      return `Recorded: ${list.join(", ")}.`;
    },
  };
}

const THROUGH_WORDS = /culvert|pipe|sluice|gate|outfall|duct|drain/i;

/** A noted structure or pipe through the bank. */
export function structure(cells: Cells, survey: Survey, reach_m: number): Presence {
  const notes = survey.fieldNotes.filter(
    (note) => note.kind === "structure" || THROUGH_WORDS.test(note.object),
  );
  const value = cells.chainage_m.map((x) =>
    notes.some((note) => x >= note.from_m - reach_m && x <= note.to_m + reach_m) ? 1 : 0,
  );
  return {
    name: "structure",
    value,
    statement: (_, from_m, to_m) => {
      const near = notes.filter(
        (note) => note.to_m >= from_m - reach_m && note.from_m <= to_m + reach_m,
      );
      if (near.length === 0) return "No noted structure through the bank.";
      const list = near.map((note) => `${note.object} at ${note.from_m.toFixed(0)} m`);
      return `Noted: ${list.join(", ")}.`;
    },
  };
}

/** The ends of blocks, where two makes of bank meet. */
export function changeOfMake(cells: Cells, blocks: Blocks | null, reach_m: number): Presence {
  const inner = blocks?.blocks.slice(1) ?? [];
  const value = cells.chainage_m.map((x) => {
    if (blocks === null) return Number.NaN;
    const near = inner.some(
      ({ fromInterval_m: [low, high] }) => x >= low - reach_m && x <= high + reach_m,
    );
    return near ? 1 : 0;
  });
  return {
    name: "change of make",
    value,
    statement: (share) => (share > 0 ? "Two makes of bank meet here." : "Inside one make of bank."),
  };
}

/** What a slice gives at a station: log10 resistivity and its standard deviation. */
interface SliceEstimate {
  readonly slice: number;
  readonly log10: number;
  readonly sd: number;
  /** The sides of the 80 % interval, as standard deviations of a normal distribution. */
  readonly down: number;
  readonly up: number;
}

export function estimateAt(slices: DepthSlices, k: number, i: number): SliceEstimate {
  const of = (rows: readonly Float64Array[]) => valueAt(itemAt(rows, k), i);
  const { p10, p90 } = slices;
  const [log10, sd] = [of(slices.log10Resistivity), of(slices.sd)];
  const down = p10 === undefined ? sd : (log10 - of(p10)) / NORMAL_90;
  const up = p90 === undefined ? sd : (of(p90) - log10) / NORMAL_90;
  return { slice: k, log10, sd, down, up };
}

function deepestReliable({ slices }: DepthSlices): number {
  return slices.findLast(({ reliable }) => reliable)?.base_m ?? 0;
}

/** Of the slices below the first that are reliable or bounded from below, or of the only one; null where none has an estimate. */
function mostResistive(slices: DepthSlices, i: number): SliceEstimate | null {
  const from = slices.slices.length > 1 ? 1 : 0;
  let best: SliceEstimate | null = null;
  for (const [k, { reliable, bounded }] of slices.slices.entries()) {
    const here = estimateAt(slices, k, i);
    // Of a slice that is bounded from below only, what it is over counts.
    const counts = reliable || bounded === "below";
    if (k < from || !counts || Number.isNaN(here.log10)) continue;
    if (best === null || here.log10 > best.log10) best = here;
  }
  return best;
}

/** Mean over the stations within a cell; NaN where it has none with an estimate. */
export function overCells(
  cells: Cells,
  slices: DepthSlices,
  at: (station: number) => number,
): Float64Array {
  const within: number[][] = Array.from(cells.chainage_m, () => []);
  const first = cells.chainage_m[0] ?? 0;
  for (const [i, x] of slices.chainage_m.entries()) {
    const cell = Math.floor((x - first) / (2 * cells.half_m) + 0.5);
    within[cell]?.push(at(i));
  }
  return Float64Array.from(within, presentMean);
}

export function above(z: number): number {
  return normalTail(-z);
}

function fading(distance_m: number, reach_m: number): number {
  const reaches = Math.abs(distance_m) / reach_m;
  return reaches < 3 ? Math.exp(-(reaches ** 2)) : 0;
}

export function percent(share: number): string {
  return `${Math.round(100 * share)} %`;
}
