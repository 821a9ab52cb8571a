import { ppmPerUnit } from "../../earth/channel-sensitivities.js";
import { layerParts, partsBelow } from "../../earth/embankment/layer-parts.js";
import { onBank } from "../../earth/embankment/on-bank.js";
import { stationForward } from "../../earth/station-forward.js";
import { valueAt, zipped } from "../../numerics/arrays.js";
import { Remembered } from "../../numerics/functions/remembered.js";
import { median } from "../../numerics/statistics/robust.js";
import type { Channel } from "../../survey/survey.js";
import { addLayeredCovariance } from "./layered-covariance.js";
import { type LayersSeen, layersSeen } from "./layers-seen.js";
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
 * and of height by one `BOB_M`, on the bank's shape where it is known. They are taken about earths
 * of one or two parts that read as the line does at its low, middle and high level; the three
 * covariances are averaged.
 */
export function groundCovariance(profile: LineProfile): Float64Array {
  const { channels } = profile;
  const { coils, raised } = viewsOf(profile);
  const response = remembered(profile, coils);
  const covariance = new Float64Array(channels.length ** 2);
  for (const level of LEVELS) {
    const earth = Float64Array.from(earthAt(profile, level, response), Math.log);
    const rest = coils(earth);
    const bob = raised(earth).values.map((value, c) => value - valueAt(rest.values, c));
    const layers = rest.layers.map((byLog) => byLog.map((one) => Math.log(CHANGE) * one));
    const changes = { layers, tops: TOPS, bob };
    addLayeredCovariance(covariance, changes, { link: LINK, divisor: LEVELS.length });
  }
  return covariance;
}

type View = (lnConductivity: Float64Array) => LayersSeen;

function viewsOf({
  channels,
  height_m,
  shape,
  pairs,
}: LineProfile): Record<"coils" | "raised", View> {
  const reference_m = median(channels.map(({ separation_m }) => separation_m));
  const top_m = Float64Array.from(TOPS, (top) => reference_m * top);
  const own = channels.map((channel) => ({ ...channel, height_m }));
  const parts = shape && layerParts(partsBelow(shape, own, pairs), top_m);
  const view = (rise_m: number) => {
    const level = stationForward(channels, top_m, height_m + rise_m);
    return layersSeen(parts ? onBank(level, parts, channels) : level, channels);
  };
  return { coils: view(0), raised: view(BOB_M) };
}

type Tried = (conductivity_S_per_m: readonly number[]) => Float64Array;

/** Values over the earths that are tried, by coils and bank: other walks try the same. */
const tried = new Remembered<Map<string, Float64Array>>(8);

function remembered({ channels, height_m, shape, pairs }: LineProfile, view: View): Tried {
  const known = tried.get(JSON.stringify([channels, height_m, shape, pairs]), () => new Map());
  return (conductivity_S_per_m) => {
    const text = conductivity_S_per_m.join(" ");
    const there = known.get(text) ?? view(Float64Array.from(conductivity_S_per_m, Math.log)).values;
    known.set(text, there);
    return there;
  };
}

/** The earth that reads as the line does at the p-quantile of its most sensitive channel. */
function earthAt({ channels, values }: LineProfile, p: number, response: Tried) {
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
