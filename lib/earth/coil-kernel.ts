import { type Fault, StepError } from "../numerics/step-error.js";
import { checkList, POSITIVE } from "./check.js";
import {
  type CoilOrientation,
  type CoilSampling,
  coilWeights,
  QUICK_SAMPLING,
  type Wavenumbers,
  wavenumbers,
} from "./coil-quadrature.js";
import { MU_0 } from "./coil-reflection.js";
import { coilFaults } from "./coil-response.js";
import { ReflectionGradient } from "./reflection-gradient.js";

export interface KernelChannel {
  readonly orientation: CoilOrientation;
  /** m, above 0. */
  readonly separation_m: number;
  /** Hz, above 0. */
  readonly frequency_Hz: number;
}

/** What stays fixed while an inversion tries conductivities. */
export interface KernelSetup {
  /** Thickness of all layers but the last, m − 1 values, m. */
  readonly thickness_m: ArrayLike<number>;
  /** Height of the coils above the ground, m. */
  readonly height_m: number;
  /** c channels. */
  readonly channels: readonly KernelChannel[];
}

/** Where a kernel writes: allocated once by the caller, overwritten by every evaluation. */
export interface KernelOutput extends KernelPart {
  /** Derivatives to each ln conductivity, ppm, c × m row by channel; left out, not worked out. */
  readonly jacobian?: KernelPart;
  /** Derivatives to each thickness, ppm/m, c × (m − 1) row by channel; left out, not worked out. */
  readonly byThickness?: KernelPart;
  /** c derivatives to the height of the coils, ppm/m; left out, not worked out. */
  readonly byHeight?: KernelPart;
}

export interface KernelPart {
  readonly inphase_ppm: Float64Array;
  readonly quadrature_ppm: Float64Array;
}

/** The responses of c channels to m layers, and their derivatives. */
export interface CoilKernel {
  /** m. */
  readonly layers: number;
  /** c. */
  readonly channels: number;
  /** Points of the quadrature: what the cost is proportional to. */
  readonly points: number;
  /** An output of the right lengths with `jacobian`; with the other derivatives where asked for. */
  output(): KernelOutput & { readonly jacobian: KernelPart };
  output(parts: { readonly byThickness: true; readonly byHeight: true }): Required<KernelOutput>;
  /**
   * Fills the output for m values of ln(S/m). A layer at −Infinity is an insulator. Allocates
   * nothing, checks nothing: NaN in gives NaN out.
   */
  evaluate(lnConductivity: Float64Array, out: KernelOutput): void;
}

/**
 * `coilResponse` made fast for inversions: many models, one geometry, derivatives included.
 *
 * The quadrature is prepared once. Its points are shared by all channels, so that the reflection
 * coefficient and its derivatives are worked out once a frequency, whatever the number of
 * orientations and separations. The error stays below 3e-5 of the larger component from 1e-4 S/m up
 * to induction numbers of 10, and below 3e-4 up to 100, where only long coils on good conductors
 * come.
 *
 * Throws StepError with every fault of the setup.
 * Source: as `coilResponse`; derivatives by the chain rule along the recursion.
 */
export function coilKernel(setup: KernelSetup): CoilKernel {
  const faults = setupFaults(setup);
  if (faults.length > 0) throw new StepError("coilKernel", faults);
  return sharedPointsKernel(setup, kernelSampling(setup));
}

/** The weakest ground, S/m, over which the kernel keeps its accuracy. */
const WEAKEST_S_PER_M = 1e-4;

/**
 * The sampling of a kernel: wavenumbers far below that of the weakest ground at the lowest
 * frequency, where the reflection coefficient is −1 and adds nothing, are left out.
 */
export function kernelSampling({ channels, height_m }: KernelSetup): CoilSampling {
  const longest = Math.max(...channels.map((channel) => channel.separation_m));
  const lowest_Hz = Math.min(...channels.map((channel) => channel.frequency_Hz));
  const induction = 2 * Math.PI * lowest_Hz * MU_0 * WEAKEST_S_PER_M;
  const smallest = 0.13 * Math.hypot(longest, 2 * height_m) * Math.sqrt(induction);
  return {
    ...QUICK_SAMPLING,
    smallest: Math.min(1e-3, Math.max(QUICK_SAMPLING.smallest, smallest)),
  };
}

/** `coilKernel` for a setup that is known to be valid, at another accuracy. */
export function sharedPointsKernel(setup: KernelSetup, sampling: CoilSampling): CoilKernel {
  return new SharedPointsKernel(setup, sampling);
}

function setupFaults(setup: KernelSetup): Fault[] {
  const faults: Fault[] = [];
  checkList(faults, "setup.thickness_m", [setup.thickness_m, POSITIVE]);
  for (const [i, channel] of setup.channels.entries()) {
    faults.push(...coilFaults({ ...channel, height_m: setup.height_m }, `setup.channels[${i}]`));
  }
  if (setup.channels.length > 0) return faults;
  const expected = "one channel at least";
  return [...faults, { code: "empty", path: "setup.channels", expected, received: "none" }];
}

interface FrequencyGroup {
  readonly omegaMu: number;
  readonly members: readonly GroupMember[];
}

interface GroupMember {
  readonly channel: number;
  /** For each point what the channel makes of r, and of ∂r/∂h = −2λ r. */
  readonly weights: Float64Array;
  readonly heightWeights: Float64Array;
}

class SharedPointsKernel implements CoilKernel {
  readonly layers: number;
  readonly channels: number;
  readonly points: number;
  private readonly groups: readonly FrequencyGroup[];
  private readonly reflection: ReflectionGradient;
  private readonly conductivity: Float64Array;
  private readonly everyPoint: Int32Array;

  constructor(setup: KernelSetup, sampling: CoilSampling) {
    const thickness_m = Float64Array.from(setup.thickness_m);
    const separations = setup.channels.map((channel) => channel.separation_m);
    const nodes = wavenumbers(sampling, setup.height_m, separations);
    this.groups = groupByFrequency(setup, nodes, sampling);
    this.layers = thickness_m.length + 1;
    this.channels = setup.channels.length;
    this.points = nodes.wavenumber_per_m.length;
    const foldings = Math.log(1 / sampling.unseen);
    this.reflection = new ReflectionGradient(thickness_m, nodes.wavenumber_per_m, foldings);
    this.conductivity = new Float64Array(this.layers);
    this.everyPoint = Int32Array.of(this.points);
  }

  output(): KernelOutput & { readonly jacobian: KernelPart };
  output(parts: { readonly byThickness: true; readonly byHeight: true }): Required<KernelOutput>;
  output(parts?: object): KernelOutput {
    const { channels, layers } = this;
    const jacobian = emptyPart(channels * layers);
    const short = { ...emptyPart(channels), jacobian };
    if (parts === undefined) return short;
    const byThickness = emptyPart(channels * (layers - 1));
    return { ...short, byThickness, byHeight: emptyPart(channels) };
  }

  evaluate(lnConductivity: Float64Array, out: KernelOutput): void {
    const { conductivity, layers } = this;
    for (let j = 0; j < layers; j++) conductivity[j] = Math.exp(lnConductivity[j]!);
    for (let g = 0; g < this.groups.length; g++) this.fillGroup(this.groups[g]!, out);
  }

  private fillGroup(group: FrequencyGroup, out: KernelOutput): void {
    const { reflection, everyPoint } = this;
    const { jacobian, byThickness, byHeight } = out;
    reflection.setModel(this.conductivity, group.omegaMu);
    reflection.evaluate(byThickness ? "all" : jacobian ? "by log" : "none");
    const { value, seeing, seeingBelow } = reflection;
    for (let c = 0; c < group.members.length; c++) {
      const { channel, weights, heightWeights } = group.members[c]!;
      weighRows(out, channel, { weights, values: value, until: everyPoint });
      if (byHeight) {
        weighRows(byHeight, channel, { weights: heightWeights, values: value, until: everyPoint });
      }
      if (jacobian) {
        weighRows(jacobian, channel, { weights, values: reflection.byLog, until: seeing });
      }
      if (byThickness) {
        const values = reflection.byThickness;
        weighRows(byThickness, channel, { weights, values, until: seeingBelow });
      }
    }
  }
}

function emptyPart(length: number): KernelPart {
  return { inphase_ppm: new Float64Array(length), quadrature_ppm: new Float64Array(length) };
}

/** Rows of p pairs, of which the first `until` count. */
interface Weighed {
  readonly weights: Float64Array;
  readonly values: Float64Array;
  readonly until: Int32Array;
}

/** Writes Σ weight · value of every row to the channel's row of the output. */
function weighRows(out: KernelPart, channel: number, { weights, values, until }: Weighed): void {
  const rows = until.length;
  for (let j = 0; j < rows; j++) {
    const end = until[j]!;
    let at = 2 * j * weights.length;
    let evenRe = 0;
    let evenIm = 0;
    let oddRe = 0;
    let oddIm = 0;
    let i = 0;
    for (; i + 1 < end; i += 2, at += 4) {
      const even = weights[i]!;
      const odd = weights[i + 1]!;
      evenRe += even * values[at]!;
      evenIm += even * values[at + 1]!;
      oddRe += odd * values[at + 2]!;
      oddIm += odd * values[at + 3]!;
    }
    if (i < end) {
      evenRe += weights[i]! * values[at]!;
      evenIm += weights[i]! * values[at + 1]!;
    }
    out.inphase_ppm[channel * rows + j] = evenRe + oddRe;
    out.quadrature_ppm[channel * rows + j] = evenIm + oddIm;
  }
}

function groupByFrequency(
  setup: KernelSetup,
  nodes: Wavenumbers,
  sampling: CoilSampling,
): FrequencyGroup[] {
  const frequencies = [...new Set(setup.channels.map((channel) => channel.frequency_Hz))];
  const members = setup.channels.map((channel, index): GroupMember => {
    const coils = { ...channel, height_m: setup.height_m };
    const weights = coilWeights(nodes, sampling, coils).map((weight) => 1e6 * weight);
    const heightWeights = weights.map((weight, i) => -2 * nodes.wavenumber_per_m[i]! * weight);
    return { channel: index, weights, heightWeights };
  });
  return frequencies.map((frequency_Hz) => ({
    omegaMu: 2 * Math.PI * frequency_Hz * MU_0,
    members: members.filter((_, i) => setup.channels[i]!.frequency_Hz === frequency_Hz),
  }));
}
