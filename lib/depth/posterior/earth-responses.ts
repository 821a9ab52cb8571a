import {
  type CoilSampling,
  coilWeights,
  QUICK_SAMPLING,
  type wavenumbers,
} from "../../earth/coil-quadrature.js";
import { MU_0 } from "../../earth/coil-reflection.js";
import { liftOnto, shareOf } from "../../earth/embankment/on-bank.js";
import { ReflectionGradient } from "../../earth/reflection-gradient.js";
import type { Channel } from "../../survey/survey.js";
import type { LineReadings } from "../data/line-readings.js";
import { type EarthEnsemble, MOST_LAYERS } from "../prior/earth-ensemble.js";
import { memberParts } from "./member-parts.js";

/** Coarser than the kernel's: errors below 1e-3 of the response are far below any noise. */
export const MEMBER_SAMPLING: CoilSampling = {
  ...QUICK_SAMPLING,
  step: 0.7,
  spacing: 2.2,
  smallest: 4e-3,
  fading: 9,
  cutAt: 25,
  cutWidth: 6,
  unseen: 1e-4,
};

/** Channels on a bank or on level ground, with the coils at one height. */
export interface ResponseSetup extends Pick<LineReadings, "channels" | "bank"> {
  readonly height_m: number;
}

/** Rows of responses of c channels in ppm, and the one to write. */
export interface ResponseRows {
  readonly channels: number;
  readonly slot: number;
  /** c values a row. */
  readonly ppm: Float32Array;
  /** MOST_LAYERS × c changes for each layer's ln conductivity. */
  readonly byLog: Float32Array;
  /** c changes for ln of all thicknesses together, and for the coils' height, 1/m. */
  readonly byStretch: Float32Array;
  readonly byHeight: Float32Array;
}

export interface FrequencyGroup {
  readonly omegaMu: number;
  readonly members: readonly { readonly d: number; readonly weights: Float64Array }[];
}

interface Filling {
  readonly setup: ResponseSetup;
  readonly groups: readonly FrequencyGroup[];
  readonly nodes: { readonly wavenumber_per_m: Float64Array };
  readonly out: ResponseRows;
}

/** A member's responses and derivatives in ppm, at the slot of the store. */
export function fillResponses(ensemble: EarthEnsemble, k: number, filling: Filling): void {
  const { nodes, groups, setup, out } = filling;
  const layers = ensemble.layers[k]!;
  const at = k * MOST_LAYERS;
  const thickness_m = ensemble.thickness_m.slice(at, at + layers - 1);
  const reflection = new ReflectionGradient(thickness_m, nodes.wavenumber_per_m, FOLDINGS);
  const conductivity = ensemble.lnConductivity.slice(at, at + layers).map(Math.exp);
  const { channels: c, slot } = out;
  const parts = setup.bank && memberParts(setup.bank, thickness_m);
  const byLog = new Float64Array(layers);
  for (const group of groups) {
    reflection.setModel(conductivity, group.omegaMu);
    reflection.evaluate("all");
    for (const { d, weights } of group.members) {
      const { kind } = setup.channels[d]!;
      const part = kind === "inphase" ? 0 : 1;
      const points = weights.length;
      const level = weighed(weights, reflection.value, { from: part, until: points });
      for (let j = 0; j < layers; j++) {
        const range = { from: 2 * j * points + part, until: reflection.seeing[j]! };
        byLog[j] = weighed(weights, reflection.byLog, range);
      }
      const ground = { sigma: conductivity, from: 0, byShare: shareOf(kind) };
      const ppm = parts ? liftOnto(parts(d), ground, { ppm: level, jacobian: byLog }) : level;
      // What moves the coils or all depths acts on the bank as on level ground.
      const share = parts && level !== 0 ? ppm / level : 1;
      out.ppm[slot * c + d] = ppm;
      const byHeight = weighedByHeight(weights, reflection.value, nodes.wavenumber_per_m, part);
      out.byHeight[slot * c + d] = share * byHeight;
      let byStretch = 0;
      for (let j = 0; j + 1 < layers; j++) {
        const range = { from: 2 * j * points + part, until: reflection.seeingBelow[j]! };
        byStretch += thickness_m[j]! * weighed(weights, reflection.byThickness, range);
      }
      out.byStretch[slot * c + d] = share * byStretch;
      for (let j = 0; j < layers; j++) out.byLog[(slot * MOST_LAYERS + j) * c + d] = byLog[j]!;
    }
  }
}

const FOLDINGS = Math.log(1 / MEMBER_SAMPLING.unseen);

/** Σ weight · part of the complex values from an offset. */
function weighed(
  weights: Float64Array,
  pairs: Float64Array,
  { from, until }: { readonly from: number; readonly until: number },
): number {
  let sum = 0;
  for (let i = 0, at = from; i < until; i++, at += 2) sum += weights[i]! * pairs[at]!;
  return sum;
}

function weighedByHeight(
  weights: Float64Array,
  pairs: Float64Array,
  wavenumber_per_m: Float64Array,
  part: number,
): number {
  let sum = 0;
  for (let i = 0; i < weights.length; i++) {
    sum -= 2 * wavenumber_per_m[i]! * weights[i]! * pairs[2 * i + part]!;
  }
  return sum;
}

export function frequencyGroups(
  channels: readonly Channel[],
  height_m: number,
  nodes: ReturnType<typeof wavenumbers>,
): readonly FrequencyGroup[] {
  const frequencies = [...new Set(channels.map((channel) => channel.frequency_Hz))];
  return frequencies.map((frequency_Hz) => ({
    omegaMu: 2 * Math.PI * frequency_Hz * MU_0,
    members: channels.flatMap((channel, d) => {
      if (channel.frequency_Hz !== frequency_Hz) return [];
      const weights = coilWeights(nodes, MEMBER_SAMPLING, { ...channel, height_m });
      return [{ d, weights: weights.map((weight) => 1e6 * weight) }];
    }),
  }));
}
