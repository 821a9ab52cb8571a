import { ppmPerUnit } from "../../earth/channel-sensitivities.js";
import { type ConductiveEarth, layeredResponse } from "../../earth/coil-response.js";
import { itemAt, neighbours, valueAt, zipped } from "../../numerics/arrays.js";
import { Remembered } from "../../numerics/functions/remembered.js";
import { median } from "../../numerics/statistics/robust.js";
import type { Channel } from "../../survey/survey.js";
import { addLayeredCovariance, type GroundChanges } from "./layered-covariance.js";
import { likeLayered, mediansAbout } from "./like-layered.js";
import type { LineProfile } from "./line-profiles.js";

/** Layer tops in the median coil separation; deeper than the last the coils hardly see. */
const TOPS = [0, 0.2, 0.45, 0.8, 1.3, 2, 3.2];
/** Local changes of conductivity by this factor must not look like metal. */
const CHANGE = 1.2;
/** Depth over which such a change is correlated, in coil separations. */
const LINK = 5;
/** Changes of the coils' height must not look like metal either. */
const BOB_M = 0.05;
/** Quantiles of the line at which earths are taken. */
const LEVELS = [0.1, 0.5, 0.9];
/** Where no channel tells the ground's level. */
const UNKNOWN_S_PER_M = 0.03;

/**
 * Covariance of the channels from local changes of layered ground and of the coils' height, c × c
 * by rows in the channels' units: changes of conductivity by one `CHANGE`, correlated over depth,
 * and of height by one `BOB_M`. Differences of the layered-earth response are taken about earths of
 * one or two parts that read as the line does at its low, middle and high level; the three
 * covariances are averaged.
 */
export function groundCovariance(profile: LineProfile): Float64Array {
  const { channels } = profile;
  const response = responseOf(profile);
  const earths = remembered(profile, response);
  const covariance = new Float64Array(channels.length ** 2);
  for (const level of LEVELS) {
    const changes = groundChanges(earthAt(profile, level, earths), response);
    addLayeredCovariance(covariance, changes, { link: LINK, divisor: LEVELS.length });
  }
  return covariance;
}

/** What the channels would show over layers of conductivity, with the coils raised. */
type Response = (conductivity_S_per_m: readonly number[], rise_m?: number) => Float64Array;

function responseOf(profile: LineProfile): Response {
  const { channels } = profile;
  const pairs = coilPairs(channels);
  const height_m = heightOf(profile);
  const reference_m = median(channels.map(({ separation_m }) => separation_m));
  return (conductivity_S_per_m, rise_m = 0) => {
    const earth = merged(conductivity_S_per_m, reference_m);
    const raised = { height_m: height_m + rise_m };
    const readings = pairs.coils.map((pair) => layeredResponse(earth, { ...pair, ...raised }));
    return Float64Array.from(channels, (channel, c) => {
      const { inphase_ppm, quadrature_ppm } = itemAt(readings, itemAt(pairs.of, c));
      return channel.kind === "inphase" ? inphase_ppm : quadrature_ppm / ppmPerUnit(channel);
    });
  };
}

function heightOf({ pass, rows }: LineProfile): number {
  const median_m = median(Float64Array.from(rows, (i) => valueAt(pass.height_m, i)));
  return median_m > 0 ? median_m : 0;
}

/** The coil pairs of c channels, each once, and which of them is each channel's. */
function coilPairs(channels: readonly Channel[]) {
  const texts = channels.map(({ orientation, separation_m, frequency_Hz }) =>
    [orientation, separation_m, frequency_Hz].join(" "),
  );
  const distinct = [...new Set(texts)];
  return {
    coils: distinct.map((text) => itemAt(channels, texts.indexOf(text))),
    of: texts.map((text) => distinct.indexOf(text)),
  };
}

/** Responses over the earths that are tried, by instrument and height: other walks try the same. */
const tried = new Remembered<Map<string, Float64Array>>(8);

function remembered(profile: LineProfile, response: Response): Response {
  const coils = profile.channels.map(({ kind, orientation, separation_m, frequency_Hz }) => [
    ...[kind, orientation, separation_m, frequency_Hz],
  ]);
  const known = tried.get(JSON.stringify([coils, heightOf(profile)]), () => new Map());
  return (conductivity_S_per_m) => {
    const text = conductivity_S_per_m.join(" ");
    const there = known.get(text) ?? response(conductivity_S_per_m);
    known.set(text, there);
    return there;
  };
}

/** Layers of one conductivity that lie on each other are one. */
function merged(column: readonly number[], reference_m: number): ConductiveEarth {
  const starts = [...column.keys()].filter((l) => l === 0 || column[l] !== column[l - 1]);
  const tops = starts.map((l) => reference_m * itemAt(TOPS, l));
  return {
    conductivity_S_per_m: starts.map((l) => itemAt(column, l)),
    thickness_m: neighbours(tops).map(([top, base]) => base - top),
  };
}

function groundChanges(base: readonly number[], response: Response): GroundChanges {
  const rest = response(base);
  const change = (moved: Float64Array) => moved.map((value, c) => value - valueAt(rest, c));
  const layers = TOPS.map((_, l) => change(response(base.with(l, CHANGE * itemAt(base, l)))));
  return { layers, tops: TOPS, bob: change(response(base, BOB_M)) };
}

/** The earth that reads as the line does at the p-quantile of its most sensitive channel. */
function earthAt({ channels, values }: LineProfile, p: number, response: Response) {
  const uniform = TOPS.map(() => UNKNOWN_S_PER_M);
  const [best] = zipped(channels, values).sort(([a], [b]) => sensitivity(b) - sensitivity(a));
  if (best === undefined || best[0].kind === "inphase") return uniform;
  const target = mediansAbout(values, best[1], p);
  if (target.every(Number.isNaN)) return uniform;
  const perPpm = Float64Array.from(channels, (channel) =>
    channel.kind === "inphase" ? 1 : 1 / ppmPerUnit(channel),
  );
  return likeLayered({ target, perPpm, layers: TOPS.length, response });
}

/** At low induction; an in-phase channel hardly depends on the level. */
function sensitivity({ kind, frequency_Hz, separation_m }: Channel): number {
  return kind === "inphase" ? 0 : frequency_Hz * separation_m ** 2;
}
