import { channelSensitivities } from "../../earth/channel-sensitivities.js";
import type { Instrument } from "../../survey/survey.js";
import {
  type DetectionProbability,
  detectionProbability,
} from "../detection/detection-probability.js";
import type { PlanOptions } from "../options.js";
import type { PlannedChannel, PlannedFrequency } from "../plan.js";
import { variationFactor, whitenedRows } from "../scene/ground-variation.js";
import { splitEarth, topsOf } from "../scene/layered-target.js";
import { type PlanGround, sceneAt } from "../scene/plan-ground.js";
import { channelInformation } from "./channel-information.js";

/** What is not told of the ground beforehand: as `estimateDepthSlices` takes it by default. */
const PRIOR = { levelSd: 1, layerSd: 0.7, correlation_m: 1 };

/** Each channel: its mark and noises, alone, left out, and what it shares about the ground. */
export function plannedChannels(
  { channels }: Instrument,
  ground: PlanGround,
  used: PlanOptions,
): { readonly channels: readonly PlannedChannel[]; readonly independentLevels: number } {
  const c = channels.length;
  const information = informationOf(channels, ground);
  const { signal } = sceneAt(ground, used, 0);
  const lost = lossOf(ground, used);
  const rows = channels.map(({ unit: _, ...channel }, at): PlannedChannel => {
    const share = lost(without(c, [at]));
    return {
      ...channel,
      mark_ppm: signal[at]!.reduce(
        (most, value) => (Math.abs(value) > Math.abs(most) ? value : most),
        0,
      ),
      noise_ppm: ground.noise_ppm[at]!,
      ground_ppm: Math.sqrt(ground.ground_ppm2[at * c + at]!),
      alone: detectionProbability(ground, used, [at]).probability,
      lost: share,
      shared: information.shared[at]!,
      addsNothing: share < used.addsNothing,
    };
  });
  return { channels: rows, independentLevels: information.levels };
}

function informationOf(channels: Instrument["channels"], ground: PlanGround) {
  const earth = splitEarth(ground.earth);
  const found = channelSensitivities(channels, ground.height_m, earth);
  const factor = variationFactor(topsOf(earth), PRIOR);
  const whitened = whitenedRows(found.byLnConductivity_ppm, factor, ground.noise_ppm);
  return channelInformation(whitened, channels.length);
}

/** Each frequency with all its channels: alone, and left out. */
export function plannedFrequencies(
  instrument: Instrument,
  ground: PlanGround,
  used: PlanOptions,
): PlannedFrequency[] {
  const lost = lossOf(ground, used);
  const members = byFrequency(instrument);
  return [...members].map(([frequency_Hz, own]) => {
    const share = lost(without(instrument.channels.length, own));
    return {
      frequency_Hz,
      alone: detectionProbability(ground, used, own).probability,
      lost: share,
      addsNothing: share < used.addsNothing,
    };
  });
}

/** Frequencies taken out one by one, the least useful first, while the loss stays below the share. */
export function frequenciesToLeaveOut(
  instrument: Instrument,
  ground: PlanGround,
  used: PlanOptions,
): number[] {
  const lost = lossOf(ground, used);
  const members = byFrequency(instrument);
  const out: number[] = [];
  while (members.size - out.length > 1) {
    const tried = [...members.keys()]
      .filter((frequency) => !out.includes(frequency))
      .map((frequency) => {
        const gone = [...out, frequency].flatMap((one) => members.get(one)!);
        return { frequency, share: lost(without(instrument.channels.length, gone)) };
      });
    const least = tried.reduce((best, one) => (one.share < best.share ? one : best));
    if (!(least.share < used.addsNothing)) break;
    out.push(least.frequency);
  }
  return out;
}

/** Channels by frequency, lowest first. */
function byFrequency({ channels }: Instrument): Map<number, number[]> {
  const members = new Map<number, number[]>();
  const rising = [...channels.keys()].sort(
    (a, b) => channels[a]!.frequency_Hz - channels[b]!.frequency_Hz,
  );
  for (const at of rising) {
    const { frequency_Hz } = channels[at]!;
    members.set(frequency_Hz, [...(members.get(frequency_Hz) ?? []), at]);
  }
  return members;
}

function without(c: number, gone: readonly number[]): number[] {
  return Array.from({ length: c }, (_, at) => at).filter((at) => !gone.includes(at));
}

/** Share of the squared detectability that is lost where only some channels are kept. */
function lossOf(ground: PlanGround, used: PlanOptions): (kept: readonly number[]) => number {
  const all: DetectionProbability = detectionProbability(ground, used);
  return (kept) => {
    if (kept.length === 0) return 1;
    const rest = detectionProbability(ground, used, kept);
    return Math.max(0, 1 - (rest.detectability / all.detectability) ** 2);
  };
}
