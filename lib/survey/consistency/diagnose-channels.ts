import { itemAt } from "../../numerics/arrays.js";
import { median } from "../../numerics/statistics/robust.js";
import { listText } from "../../step/list-text.js";
import type { Campaign } from "../campaign.js";
import { alternativesOf } from "./alternatives.js";
import { asDeclared, type Described } from "./described.js";
import { type Sample, type Station, sampleStations } from "./sample-stations.js";
import { type StationFit, stationFitter } from "./station-fit.js";

/** How the channels of a campaign go together over layered ground. */
export interface ChannelDiagnosis {
  /** Median over the stations of the misfit as declared, in tolerances; NaN without stations. */
  readonly misfit: number;
  /** What would explain a misfit, best first; empty where it is small or nothing explains it. */
  readonly explained: readonly Explained[];
  /** Where nothing explains it: the channels furthest off what the others agree on. */
  readonly odd: readonly OddChannel[];
}

export interface Explained {
  /** To be read after "as if". */
  readonly text: string;
  readonly misfit: number;
}

export interface OddChannel {
  readonly field: string;
  /** Reading over what layered ground would give, median. */
  readonly ratio: number;
}

/** Below this the errors that every instrument has may be all there is, in tolerances. */
const POOR = 2;
/** From here on it is said where nothing explains it. */
export const UNEXPLAINED = 3;
/** An explanation fits this many times better … */
const BETTER = 2.5;
/** … and others that come within this of the best are named with it. */
const NEAR = 1.25;
/** A channel is suspect from this residual on, in tolerances. */
const SUSPECT = 2;
/** Stations on which all alternatives are tried; the best of them are tried on all. */
const SCREENED = 5;
const KEPT = 4;
/** Slips that are looked for together, each of which must make the fit so many times better. */
const MOST_SLIPS = 3;
const GAIN = 1.2;

/**
 * Fits layered ground to a sample of stations and, where it does not fit, looks for the slip in the
 * instrument's description or the columns that would make it fit.
 *
 * Tolerances are wide: 4 % and 25 ppm (in-phase 60 ppm), and what the base checks wander, so that
 * gains, zeros, heights and drift of an ordinary survey stay within. A slip that such errors hide
 * is not seen, nor one that another ground explains: two channels fit nearly any ground.
 *
 * `poor`: the misfit from which an explanation is looked for, default 2.
 * `campaign`: readings placed along the bank; those set aside are left out, NaN is missing.
 */
export function diagnoseChannels(
  campaign: Campaign,
  { poor = POOR }: { readonly poor?: number } = {},
): ChannelDiagnosis {
  const sample = sampleStations(campaign);
  const declared = tried(asDeclared(sample.channels, sample.sources), sample);
  if (!(declared.misfit > poor)) return { misfit: declared.misfit, explained: [], odd: [] };
  const explained = explanationsOf(sample, declared);
  const isTold = explained.length > 0 || !(declared.misfit > UNEXPLAINED);
  const odd = isTold ? [] : oddChannels(sample, declared);
  return { misfit: declared.misfit, explained, odd };
}

interface Tried {
  readonly described: readonly Described[];
  readonly misfit: number;
  /** For each channel the median over the stations. */
  readonly residuals: readonly number[];
  readonly ratios: readonly number[];
}

function tried(described: readonly Described[], { stations, wander }: Sample): Tried {
  const fit = stationFitter(described, wander);
  const fits = stations.filter(hasReadings).map(fit);
  const byChannel = (of: (one: StationFit) => readonly number[]) =>
    described.map((_, c) => median(fits.map((one) => itemAt(of(one), c)).filter(Number.isFinite)));
  return {
    described,
    misfit: median(fits.map(({ misfit }) => misfit)),
    residuals: byChannel(({ residuals }) => residuals),
    ratios: byChannel(({ ratios }) => ratios),
  };
}

const hasReadings = ({ values }: Station) => values.some((value) => !Number.isNaN(value));

/** One slip; where none will do two or three together, each the best after those before. */
function explanationsOf(sample: Sample, declared: Tried): readonly Explained[] {
  let base: Candidate = { texts: [], ...declared };
  for (let slips = 1; slips <= MOST_SLIPS; slips++) {
    const next = oneMoreSlip(sample, base);
    const good = next.filter(({ misfit }) => misfit * BETTER < declared.misfit && misfit < POOR);
    const [best] = next;
    if (best === undefined || !(best.misfit * GAIN < base.misfit)) return [];
    if (good.length > 0) {
      const near = good.filter(({ misfit }) => misfit <= NEAR * best.misfit);
      const told = near.map(({ texts, misfit }) => [listText(texts), misfit] as const);
      return [...new Map(told.toReversed())]
        .map(([text, misfit]) => ({ text, misfit }))
        .toReversed();
    }
    base = best;
  }
  return [];
}

interface Candidate extends Tried {
  /** The slips one after the other. */
  readonly texts: readonly string[];
}

/** The best descriptions with one slip more, best first. */
function oneMoreSlip(sample: Sample, base: Candidate): readonly Candidate[] {
  const suspects = base.residuals.flatMap((r, c) => (Math.abs(r) > SUSPECT ? [c] : []));
  const step = Math.max(1, sample.stations.length / SCREENED);
  const few = { ...sample, stations: sample.stations.filter((_, i) => i % step < 1) };
  const byMisfit = (one: Tried, other: Tried) => one.misfit - other.misfit;
  return alternativesOf(base.described, suspects)
    .map(({ text, described }) => ({ text, ...tried(described, few) }))
    .sort(byMisfit)
    .slice(0, KEPT)
    .map(({ text, described }) => ({ texts: [...base.texts, text], ...tried(described, sample) }))
    .sort(byMisfit);
}

/** Up to three channels, the furthest off first. */
function oddChannels({ channels }: Sample, { residuals, ratios }: Tried): readonly OddChannel[] {
  return channels
    .map(({ field }, c) => ({
      field,
      ratio: itemAt(ratios, c),
      off: Math.abs(itemAt(residuals, c)),
    }))
    .filter(({ off }) => off > SUSPECT)
    .sort((one, other) => other.off - one.off)
    .slice(0, 3)
    .map(({ field, ratio }) => ({ field, ratio }));
}
