import { type Fault, StepError } from "../numerics/step-error.js";
import { checkList, POSITIVE } from "./check.js";
import {
  type CoilOrientation,
  coilWeights,
  QUICK_SAMPLING,
  type Wavenumbers,
  wavenumbers,
} from "./coil-quadrature.js";
import { deepestSeen, MU_0 } from "./coil-reflection.js";
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
export interface KernelOutput {
  /** c in-phase and c quadrature responses, ppm. */
  readonly inphase_ppm: Float64Array;
  readonly quadrature_ppm: Float64Array;
  /** Their derivatives to each ln conductivity, ppm, c × m row by channel; left out, not worked out. */
  readonly jacobian?: {
    readonly inphase_ppm: Float64Array;
    readonly quadrature_ppm: Float64Array;
  };
}

/** The responses of c channels to m layers, and their derivatives. */
export interface CoilKernel {
  /** m. */
  readonly layers: number;
  /** c. */
  readonly channels: number;
  /** Points of the quadrature: what the cost is proportional to. */
  readonly points: number;
  /** An output of the right lengths, Jacobian included. */
  output(): KernelOutput;
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
 * orientations and separations. The error stays below 2e-5 of the larger component up to induction
 * numbers of 10, and below 3e-4 up to 100, where only long coils on good conductors come.
 *
 * Throws StepError with every fault of the setup.
 * Source: as `coilResponse`; derivatives by the chain rule along the recursion.
 */
export function coilKernel(setup: KernelSetup): CoilKernel {
  const faults = setupFaults(setup);
  if (faults.length > 0) throw new StepError("coilKernel", faults);
  return new SharedPointsKernel(setup);
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
  readonly members: readonly { readonly channel: number; readonly weights: Float64Array }[];
}

class SharedPointsKernel implements CoilKernel {
  readonly layers: number;
  readonly channels: number;
  readonly points: number;
  private readonly groups: readonly FrequencyGroup[];
  private readonly nodes: Wavenumbers;
  /** For each point, the deepest layer that it sees. */
  private readonly deepest: Int32Array;
  private readonly reflection: ReflectionGradient;
  private readonly conductivity: Float64Array;

  constructor(setup: KernelSetup) {
    const thickness_m = Float64Array.from(setup.thickness_m);
    const separations = setup.channels.map((channel) => channel.separation_m);
    this.nodes = wavenumbers(QUICK_SAMPLING, setup.height_m, separations);
    this.groups = groupByFrequency(setup, this.nodes);
    this.layers = thickness_m.length + 1;
    this.channels = setup.channels.length;
    this.points = this.nodes.wavenumber_per_m.length;
    this.deepest = Int32Array.from(this.nodes.wavenumber_per_m, (wavenumber) =>
      deepestSeen(thickness_m, wavenumber, OUT_OF_SIGHT),
    );
    this.reflection = new ReflectionGradient(thickness_m);
    this.conductivity = new Float64Array(this.layers);
  }

  output(): KernelOutput {
    const { channels, layers } = this;
    const pair = (length: number) => ({
      inphase_ppm: new Float64Array(length),
      quadrature_ppm: new Float64Array(length),
    });
    return { ...pair(channels), jacobian: pair(channels * layers) };
  }

  evaluate(lnConductivity: Float64Array, out: KernelOutput): void {
    const { conductivity, layers } = this;
    for (let j = 0; j < layers; j++) conductivity[j] = Math.exp(lnConductivity[j]!);
    out.inphase_ppm.fill(0);
    out.quadrature_ppm.fill(0);
    out.jacobian?.inphase_ppm.fill(0);
    out.jacobian?.quadrature_ppm.fill(0);
    for (let g = 0; g < this.groups.length; g++) this.addGroup(this.groups[g]!, out);
  }

  private addGroup(group: FrequencyGroup, out: KernelOutput): void {
    const { reflection, deepest, points } = this;
    const wavenumber = this.nodes.wavenumber_per_m;
    reflection.setInduction(this.conductivity, group.omegaMu);
    for (let i = 0; i < points; i++) {
      reflection.climb(wavenumber[i]!, deepest[i]!);
      for (let c = 0; c < group.members.length; c++) {
        const { channel, weights } = group.members[c]!;
        out.inphase_ppm[channel]! += weights[i]! * reflection.re;
        out.quadrature_ppm[channel]! += weights[i]! * reflection.im;
      }
      if (out.jacobian === undefined) continue;
      reflection.descend(deepest[i]!);
      this.addGradient(group, i, out.jacobian);
    }
  }

  private addGradient(
    group: FrequencyGroup,
    point: number,
    jacobian: NonNullable<KernelOutput["jacobian"]>,
  ): void {
    const { gradientRe, gradientIm } = this.reflection;
    const { inphase_ppm, quadrature_ppm } = jacobian;
    const seen = this.deepest[point]!;
    for (let c = 0; c < group.members.length; c++) {
      const member = group.members[c]!;
      const weight = member.weights[point]!;
      const row = member.channel * this.layers;
      for (let j = 0; j <= seen; j++) {
        inphase_ppm[row + j]! += weight * gradientRe[j]!;
        quadrature_ppm[row + j]! += weight * gradientIm[j]!;
      }
    }
  }
}

/** Layers deeper than this, e^−16 = 1e-7 there and back, do not show at the kernel’s accuracy. */
const OUT_OF_SIGHT = 16;

function groupByFrequency(setup: KernelSetup, nodes: Wavenumbers): FrequencyGroup[] {
  const frequencies = [...new Set(setup.channels.map((channel) => channel.frequency_Hz))];
  const members = setup.channels.map((channel, index) => {
    const coils = { ...channel, height_m: setup.height_m };
    const weights = coilWeights(nodes, QUICK_SAMPLING, coils).map((weight) => 1e6 * weight);
    return { channel: index, weights };
  });
  return frequencies.map((frequency_Hz) => ({
    omegaMu: 2 * Math.PI * frequency_Hz * MU_0,
    members: members.filter((_, i) => setup.channels[i]!.frequency_Hz === frequency_Hz),
  }));
}
