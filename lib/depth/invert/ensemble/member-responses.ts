import {
  type CoilSampling,
  coilWeights,
  QUICK_SAMPLING,
  wavenumbers,
} from "../../../earth/coil-quadrature.js";
import { MU_0 } from "../../../earth/coil-reflection.js";
import { ReflectionGradient } from "../../../earth/reflection-gradient.js";
import type { Channel } from "../../../survey/survey.js";
import { type EarthEnsemble, MOST_LAYERS } from "./earth-ensemble.js";
import { scaled, scaledSlope } from "./reading-scale.js";

/** What c channels at one height read over every member, on the scale of reading-scale.ts. */
export interface MemberResponses {
  readonly channels: number;
  readonly height_m: number;
  /** K × c. */
  readonly value: Float32Array;
  /** K × MOST_LAYERS × c changes for each layer's ln conductivity. */
  readonly byLog: Float32Array;
  /** K × c changes for the coils' height, 1/m. */
  readonly byHeight: Float32Array;
}

/** Coarser than the kernel's: errors below 1e-3 of the response are far below any noise. */
const MEMBER_SAMPLING: CoilSampling = {
  ...QUICK_SAMPLING,
  step: 0.7,
  spacing: 2.2,
  smallest: 4e-3,
  fading: 9,
  cutAt: 25,
  cutWidth: 6,
  unseen: 1e-4,
};

export interface ResponseSetup {
  readonly channels: readonly Channel[];
  readonly height_m: number;
  readonly knee_ppm: Float64Array;
}

interface Group {
  readonly omegaMu: number;
  readonly members: readonly { readonly d: number; readonly weights: Float64Array }[];
}

/** The responses of all members; each has its own thicknesses, all share the wavenumbers. */
export function memberResponses(ensemble: EarthEnsemble, setup: ResponseSetup): MemberResponses {
  const c = setup.channels.length;
  const { count } = ensemble;
  const separations = setup.channels.map((channel) => channel.separation_m);
  const nodes = wavenumbers(MEMBER_SAMPLING, setup.height_m, separations);
  const groups = frequencyGroups(setup, nodes);
  const out = {
    channels: c,
    height_m: setup.height_m,
    value: new Float32Array(count * c),
    byLog: new Float32Array(count * MOST_LAYERS * c),
    byHeight: new Float32Array(count * c),
  };
  for (let k = 0; k < count; k++) fillMember(ensemble, k, { setup, groups, nodes, out });
  return out;
}

interface Filling {
  readonly setup: ResponseSetup;
  readonly groups: readonly Group[];
  readonly nodes: { readonly wavenumber_per_m: Float64Array };
  readonly out: MemberResponses;
}

function fillMember(ensemble: EarthEnsemble, k: number, filling: Filling): void {
  const { nodes, groups, setup, out } = filling;
  const layers = ensemble.layers[k]!;
  const at = k * MOST_LAYERS;
  const thickness_m = ensemble.thickness_m.slice(at, at + layers - 1);
  const reflection = new ReflectionGradient(thickness_m, nodes.wavenumber_per_m, FOLDINGS);
  const conductivity = ensemble.lnConductivity.slice(at, at + layers).map(Math.exp);
  const c = out.channels;
  for (const group of groups) {
    reflection.setModel(conductivity, group.omegaMu);
    reflection.evaluate("by log");
    for (const { d, weights } of group.members) {
      const part = setup.channels[d]!.kind === "inphase" ? 0 : 1;
      const points = weights.length;
      const value = weighed(weights, reflection.value, { from: part, until: points });
      const slope = scaledSlope(value, setup.knee_ppm[d]!);
      out.value[k * c + d] = scaled(value, setup.knee_ppm[d]!);
      const byHeight = weighedByHeight(weights, reflection.value, nodes.wavenumber_per_m, part);
      out.byHeight[k * c + d] = slope * byHeight;
      for (let j = 0; j < layers; j++) {
        const range = { from: 2 * j * points + part, until: reflection.seeing[j]! };
        out.byLog[(at + j) * c + d] = slope * weighed(weights, reflection.byLog, range);
      }
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

function frequencyGroups(setup: ResponseSetup, nodes: ReturnType<typeof wavenumbers>): Group[] {
  const frequencies = [...new Set(setup.channels.map((channel) => channel.frequency_Hz))];
  return frequencies.map((frequency_Hz) => ({
    omegaMu: 2 * Math.PI * frequency_Hz * MU_0,
    members: setup.channels.flatMap((channel, d) => {
      if (channel.frequency_Hz !== frequency_Hz) return [];
      const coils = { ...channel, height_m: setup.height_m };
      const weights = coilWeights(nodes, MEMBER_SAMPLING, coils).map((weight) => 1e6 * weight);
      return [{ d, weights }];
    }),
  }));
}
