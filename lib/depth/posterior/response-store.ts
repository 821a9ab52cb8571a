import { wavenumbers } from "../../earth/coil-quadrature.js";
import type { PartsBelow } from "../../earth/embankment/layer-parts.js";
import { Remembered } from "../../numerics/functions/remembered.js";
import { median } from "../../numerics/statistics/robust.js";
import type { LineReadings } from "../data/line-readings.js";
import { type EarthEnsemble, MOST_LAYERS } from "../prior/earth-ensemble.js";
import {
  type FrequencyGroup,
  fillResponses,
  frequencyGroups,
  MEMBER_SAMPLING,
  type ResponseRows,
  type ResponseSetup,
} from "./earth-responses.js";

/** Rows of a store to begin with. */
const ROWS = 4096;

/**
 * Responses of earths in ppm, each computed when it is first asked for and kept by its kind and
 * number: other campaigns and options ask for the same ones.
 */
export class ResponseStore implements ResponseRows {
  readonly channels: number;
  ppm: Float32Array;
  byLog: Float32Array;
  byStretch: Float32Array;
  byHeight: Float32Array;
  /** The row of what was last asked for. */
  slot = 0;
  private readonly slots = new Map<number, number>();
  private readonly groups: readonly FrequencyGroup[];
  private readonly nodes: ReturnType<typeof wavenumbers>;

  constructor(private readonly setup: ResponseSetup) {
    const { channels, height_m } = setup;
    this.channels = channels.length;
    const separations = channels.map((channel) => channel.separation_m);
    this.nodes = wavenumbers(MEMBER_SAMPLING, height_m, separations);
    this.groups = frequencyGroups(channels, height_m, this.nodes);
    const rows = () => new Float32Array(ROWS * this.channels);
    [this.ppm, this.byStretch, this.byHeight] = [rows(), rows(), rows()];
    this.byLog = new Float32Array(ROWS * MOST_LAYERS * this.channels);
  }

  /** The store with its `slot` at the member's row. */
  of(ensemble: EarthEnsemble, k: number): this {
    const key = ensemble.number[k]! * 256 + ensemble.kind[k]!;
    const known = this.slots.get(key);
    this.slot = known ?? this.slots.size;
    if (known !== undefined) return this;
    this.slots.set(key, this.slot);
    if ((this.slot + 1) * this.channels > this.ppm.length) this.grow();
    const { setup, groups, nodes } = this;
    fillResponses(ensemble, k, { setup, groups, nodes, out: this });
    return this;
  }

  private grow(): void {
    const doubled = (rows: Float32Array) => {
      const more = new Float32Array(2 * rows.length);
      more.set(rows);
      return more;
    };
    [this.ppm, this.byLog] = [doubled(this.ppm), doubled(this.byLog)];
    [this.byStretch, this.byHeight] = [doubled(this.byStretch), doubled(this.byHeight)];
  }
}

const stores = new Remembered<ResponseStore>(2);
const banks = new WeakMap<PartsBelow, number>();
let banksSeen = 0;

/** The store of an instrument, a bank and a seed of earths: the last two are kept. */
export function responseStore(readings: LineReadings, seed: number): ResponseStore {
  const { channels, bank } = readings;
  const height_m = median(readings.height_m);
  const coils = channels.map(({ kind, orientation, separation_m, frequency_Hz }) => [
    ...[kind, orientation, separation_m, frequency_Hz],
  ]);
  const key = JSON.stringify([seed, height_m, coils, bank?.map(bankNumber)]);
  return stores.get(key, () => new ResponseStore({ channels, height_m, ...(bank && { bank }) }));
}

function bankNumber(parts: PartsBelow): number {
  const known = banks.get(parts) ?? ++banksSeen;
  banks.set(parts, known);
  return known;
}
