import {
  type CoilSampling,
  coilWeights,
  QUICK_SAMPLING,
  wavenumbers,
} from "../../earth/coil-quadrature.js";
import { MU_0 } from "../../earth/coil-reflection.js";
import { ReflectionGradient } from "../../earth/reflection-gradient.js";
import { median } from "../../numerics/statistics/robust.js";
import type { LineReadings } from "../data/line-readings.js";
import { scaled, scaledSlope } from "../data/reading-scale.js";
import { type EarthEnsemble, MOST_LAYERS } from "../prior/earth-ensemble.js";
import { eachShare, meanBetween } from "../prior/layer-means.js";
import { liftOnto, shareOf } from "../shape/on-bank.js";
import { memberParts } from "./member-parts.js";

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

type Read = Pick<LineReadings, "channels" | "knee_ppm" | "ties" | "width" | "bank">;

/** What is read at the stations, with the coils at their usual height. */
interface ResponseSetup extends Read {
  readonly height_m: number;
}

interface Group {
  readonly omegaMu: number;
  readonly members: readonly { readonly d: number; readonly weights: Float64Array }[];
}

/** The responses of all members; each has its own thicknesses, all share the wavenumbers. */
export function memberResponses(
  ensemble: EarthEnsemble,
  readings: Read & Pick<LineReadings, "height_m">,
): MemberResponses {
  const setup = { ...readings, height_m: median(readings.height_m) };
  const c = setup.width;
  const { count } = ensemble;
  const separations = setup.channels.map((channel) => channel.separation_m);
  const nodes = wavenumbers(MEMBER_SAMPLING, setup.height_m, separations);
  const groups = frequencyGroups(setup, nodes);
  const out = {
    channels: c,
    height_m: setup.height_m,
    value: new Float32Array(count * c),
    byLog: new Float32Array(count * MOST_LAYERS * c),
    byStretch: new Float32Array(count * c),
    byHeight: new Float32Array(count * c),
  };
  for (let k = 0; k < count; k++) {
    fillMember(ensemble, k, { setup, groups, nodes, out });
    fillTies(ensemble, k, { setup, out });
  }
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
      const slope = scaledSlope(ppm, setup.knee_ppm[d]!);
      // What moves the coils or all depths acts on the bank as on level ground.
      const share = parts && level !== 0 ? (slope * ppm) / level : slope;
      out.value[k * c + d] = scaled(ppm, setup.knee_ppm[d]!);
      const byHeight = weighedByHeight(weights, reflection.value, nodes.wavenumber_per_m, part);
      out.byHeight[k * c + d] = share * byHeight;
      for (let j = 0; j + 1 < layers; j++) {
        const range = { from: 2 * j * points + part, until: reflection.seeingBelow[j]! };
        const byThickness = weighed(weights, reflection.byThickness, range);
        out.byStretch[k * c + d]! += share * thickness_m[j]! * byThickness;
      }
      for (let j = 0; j < layers; j++) out.byLog[(at + j) * c + d] = slope * byLog[j]!;
    }
  }
}

const NEARER = 0.05;

/** A tie's datum is the mean ln conductivity between its depths. */
function fillTies(
  { layers, thickness_m, lnConductivity }: EarthEnsemble,
  k: number,
  { setup, out }: Pick<Filling, "setup" | "out">,
): void {
  const at = k * MOST_LAYERS;
  const own = (row: Float64Array) => row.subarray(at, at + layers[k]!);
  const ground = { lnConductivity: own(lnConductivity), thickness_m: own(thickness_m) };
  for (const [t, { top_m, base_m }] of setup.ties.entries()) {
    const d = setup.channels.length + t;
    eachShare(ground, top_m, base_m, (j, share) => {
      out.value[k * out.channels + d]! += share * ground.lnConductivity[j]!;
      out.byLog[(at + j) * out.channels + d] = share;
    });
    // The ground of a depth stretched by a small part is that of a depth as much smaller.
    const nearer = meanBetween(ground, top_m * (1 - NEARER), base_m * (1 - NEARER));
    out.byStretch[k * out.channels + d] = (nearer - out.value[k * out.channels + d]!) / NEARER;
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
