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
  /** Changes for the ln conductivity of each layer; see `writeByLog`. */
  readonly byLog: LayerChanges;
  /** K × c changes for ln of all thicknesses together. */
  readonly byStretch: Float32Array;
  /** K × c changes for the coils' height, 1/m. */
  readonly byHeight: Float32Array;
}

/** Changes by layer, by far the most: they stay in the store, and are scaled when they are asked for. */
export interface LayerChanges {
  /** Rows of the store, MOST_LAYERS × channels each, in ppm. */
  readonly rows: Float32Array;
  /** K rows of the store. */
  readonly slot: Uint32Array;
  /** K × channels: what a ppm is on the scale of the readings. */
  readonly slope: Float64Array;
  /** K × MOST_LAYERS × ties: shares of the layers in each tie's mean. */
  readonly shares: Float32Array;
}

/** Writes the changes for each of so many layers of member k, layers × c. */
export function writeByLog(
  { rows, slot, slope, shares }: LayerChanges,
  { k, layers }: { readonly k: number; readonly layers: number },
  to: Float32Array,
): void {
  const channels = slope.length / slot.length;
  const ties = shares.length / (slot.length * MOST_LAYERS);
  for (let j = 0, at = 0; j < layers; j++) {
    const from = (slot[k]! * MOST_LAYERS + j) * channels;
    for (let d = 0; d < channels; d++) to[at++] = slope[k * channels + d]! * rows[from + d]!;
    const tie = (k * MOST_LAYERS + j) * ties;
    for (let t = 0; t < ties; t++) to[at++] = shares[tie + t]!;
  }
}

type Read = Pick<LineReadings, "channels" | "knee_ppm" | "ties" | "width">;

/** The responses of all members: those of the store, on the readings' scale, and their ties. */
export function memberResponses(
  ensemble: EarthEnsemble,
  readings: Read & Pick<LineReadings, "height_m">,
  store: ResponseStore,
): MemberResponses {
  const { width: c, channels, ties } = readings;
  const { count } = ensemble;
  const out = {
    channels: c,
    height_m: median(readings.height_m),
    value: new Float32Array(count * c),
    byStretch: new Float32Array(count * c),
    byHeight: new Float32Array(count * c),
  };
  const scaling = {
    slot: new Uint32Array(count),
    slope: new Float64Array(count * channels.length),
    shares: new Float32Array(count * MOST_LAYERS * ties.length),
  };
  for (let k = 0; k < count; k++) {
    fillMember(ensemble, k, { readings, store, out, scaling });
    fillTies(ensemble, k, { readings, out, scaling });
  }
  return { ...out, byLog: { ...scaling, rows: store.byLog } };
}

interface Filling {
  readonly readings: Read;
  readonly store: ResponseStore;
  readonly out: Omit<MemberResponses, "byLog">;
  readonly scaling: Omit<LayerChanges, "rows">;
}

function fillMember(
  ensemble: EarthEnsemble,
  k: number,
  { readings, store, out, scaling }: Filling,
): void {
  const { ppm, byStretch, byHeight, slot } = store.of(ensemble, k);
  const { channels } = store;
  const c = out.channels;
  scaling.slot[k] = slot;
  for (let d = 0; d < channels; d++) {
    const from = slot * channels + d;
    const knee = readings.knee_ppm[d]!;
    const slope = scaledSlope(ppm[from]!, knee);
    scaling.slope[k * channels + d] = slope;
    out.value[k * c + d] = scaled(ppm[from]!, knee);
    out.byStretch[k * c + d] = slope * byStretch[from]!;
    out.byHeight[k * c + d] = slope * byHeight[from]!;
  }
}

const NEARER = 0.05;

/** A tie's datum is the mean ln conductivity between its depths. */
function fillTies(
  { layers, thickness_m, lnConductivity }: EarthEnsemble,
  k: number,
  { readings, out, scaling }: Omit<Filling, "store">,
): void {
  const at = k * MOST_LAYERS;
  const own = (row: Float64Array) => row.subarray(at, at + layers[k]!);
  const ground = { lnConductivity: own(lnConductivity), thickness_m: own(thickness_m) };
  for (const [t, { top_m, base_m }] of readings.ties.entries()) {
    const d = readings.channels.length + t;
    eachShare(ground, top_m, base_m, (j, share) => {
      out.value[k * out.channels + d]! += share * ground.lnConductivity[j]!;
      scaling.shares[(at + j) * readings.ties.length + t] = share;
    });
    // The ground of a depth stretched by a small part is that of a depth as much smaller.
    const nearer = meanBetween(ground, top_m * (1 - NEARER), base_m * (1 - NEARER));
    out.byStretch[k * out.channels + d] = (nearer - out.value[k * out.channels + d]!) / NEARER;
  }
}
