import { median } from "../../numerics/statistics/robust.js";
import type { LineReadings } from "../data/line-readings.js";
import { scaled, scaledSlope } from "../data/reading-scale.js";
import { type EarthEnsemble, MOST_LAYERS } from "../prior/earth-ensemble.js";
import { eachShare, meanBetween } from "../prior/layer-means.js";
import type { ResponseStore } from "./response-store.js";

/** What c channels and ties at one height read over every member, on the scale of the readings. */
export interface MemberResponses {
  readonly channels: number;
  readonly height_m: number;
  /** K × c. */
  readonly value: Float32Array;
  /** K × MOST_LAYERS × c changes for each layer's ln conductivity. */
  readonly byLog: Float32Array;
  /** K × c changes for ln of all thicknesses together. */
  readonly byStretch: Float32Array;
  /** K × c changes for the coils' height, 1/m. */
  readonly byHeight: Float32Array;
}

type Read = Pick<LineReadings, "channels" | "knee_ppm" | "ties" | "width">;

/** The responses of all members: those of the store, on the readings' scale, and their ties. */
export function memberResponses(
  ensemble: EarthEnsemble,
  readings: Read & Pick<LineReadings, "height_m">,
  store: ResponseStore,
): MemberResponses {
  const { width: c } = readings;
  const { count } = ensemble;
  const out = {
    channels: c,
    height_m: median(readings.height_m),
    value: new Float32Array(count * c),
    byLog: new Float32Array(count * MOST_LAYERS * c),
    byStretch: new Float32Array(count * c),
    byHeight: new Float32Array(count * c),
  };
  for (let k = 0; k < count; k++) {
    fillMember(ensemble, k, { readings, store, out });
    fillTies(ensemble, k, { readings, out });
  }
  return out;
}

interface Filling {
  readonly readings: Read;
  readonly store: ResponseStore;
  readonly out: MemberResponses;
}

function fillMember(ensemble: EarthEnsemble, k: number, { readings, store, out }: Filling): void {
  const { ppm, byLog, byStretch, byHeight, slot } = store.of(ensemble, k);
  const { channels } = store;
  const c = out.channels;
  const layers = ensemble.layers[k]!;
  for (let d = 0; d < channels; d++) {
    const from = slot * channels + d;
    const knee = readings.knee_ppm[d]!;
    const slope = scaledSlope(ppm[from]!, knee);
    out.value[k * c + d] = scaled(ppm[from]!, knee);
    out.byStretch[k * c + d] = slope * byStretch[from]!;
    out.byHeight[k * c + d] = slope * byHeight[from]!;
    for (let j = 0; j < layers; j++) {
      const at = (slot * MOST_LAYERS + j) * channels + d;
      out.byLog[(k * MOST_LAYERS + j) * c + d] = slope * byLog[at]!;
    }
  }
}

const NEARER = 0.05;

/** A tie's datum is the mean ln conductivity between its depths. */
function fillTies(
  { layers, thickness_m, lnConductivity }: EarthEnsemble,
  k: number,
  { readings, out }: Pick<Filling, "readings" | "out">,
): void {
  const at = k * MOST_LAYERS;
  const own = (row: Float64Array) => row.subarray(at, at + layers[k]!);
  const ground = { lnConductivity: own(lnConductivity), thickness_m: own(thickness_m) };
  for (const [t, { top_m, base_m }] of readings.ties.entries()) {
    const d = readings.channels.length + t;
    eachShare(ground, top_m, base_m, (j, share) => {
      out.value[k * out.channels + d]! += share * ground.lnConductivity[j]!;
      out.byLog[(at + j) * out.channels + d] = share;
    });
    // The ground of a depth stretched by a small part is that of a depth as much smaller.
    const nearer = meanBetween(ground, top_m * (1 - NEARER), base_m * (1 - NEARER));
    out.byStretch[k * out.channels + d] = (nearer - out.value[k * out.channels + d]!) / NEARER;
  }
}
