import { designFilter, type HankelFilter } from "./hankel-filter.js";
import { type Earth, reflections } from "./reflection.js";

/** What a channel measures, as the contract has it; plain data of this folder's own. */
export interface ChannelSpec {
  readonly field: string;
  readonly kind: "quadrature" | "inphase" | "conductivity";
  readonly unit: "ppm" | "mS/m";
  readonly frequency_Hz: number;
  readonly separation_m: number;
  readonly orientation: "HCP" | "VCP" | "PRP";
}

export type CoilPair = Pick<ChannelSpec, "frequency_Hz" | "separation_m" | "orientation">;

/** Readings of all channels, each in its unit, over an earth with the coils at a height, m. */
export type Forward = (earth: Earth, height_m: number) => Float64Array;

let designed: HankelFilter | undefined;

function filter(): HankelFilter {
  designed ??= designFilter();
  return designed;
}

/**
 * The response of layered earth to coil pairs by a digital filter: HCP −s³ ∫ r e^(−2λh) λ² J₀(λs) dλ,
 * VCP −s² ∫ r e^(−2λh) λ J₁(λs) dλ, PRP −s³ ∫ r e^(−2λh) λ² J₁(λs) dλ, of the free-air primary field
 * of the coplanar pair; a conductivity channel shows 4 Q/(ωμ₀s²), mS/m.
 * Source: Wait 1982; Ward & Hohmann 1988; McNeill 1980.
 */
export function forwardOf(channels: readonly ChannelSpec[]): Forward {
  const groups = [...groupedByKernel(channels).values()];
  return (earth, height_m) => {
    const values = new Float64Array(channels.length);
    for (const { separation_m, frequency_Hz, members } of groups) {
      const lambda = filter().abscissa.map((x) => x / separation_m);
      const r = reflections(earth, frequency_Hz, lambda);
      for (let k = 0; k < lambda.length; k++) {
        const fading = Math.exp(-2 * lambda[k]! * height_m);
        r[k]! *= fading;
        r[lambda.length + k]! *= fading;
      }
      for (const c of members) values[c] = readingOf(channels[c]!, r);
    }
    return values;
  };
}

interface KernelGroup {
  readonly separation_m: number;
  readonly frequency_Hz: number;
  readonly members: number[];
}

/** Channels that ask for the same reflection coefficients. */
function groupedByKernel(channels: readonly ChannelSpec[]): Map<string, KernelGroup> {
  const groups = new Map<string, KernelGroup>();
  for (const [c, { separation_m, frequency_Hz }] of channels.entries()) {
    const key = `${separation_m} ${frequency_Hz}`;
    const group = groups.get(key) ?? { separation_m, frequency_Hz, members: [] };
    group.members.push(c);
    groups.set(key, group);
  }
  return groups;
}

function readingOf(channel: ChannelSpec, r: Float64Array): number {
  const part = channel.kind === "inphase" ? 0 : 1;
  const ppm = -1e6 * transformed(channel.orientation, r, part);
  return channel.kind === "conductivity" ? ppm * mS_per_m_of_ppm(channel) : ppm;
}

function transformed(orientation: ChannelSpec["orientation"], r: Float64Array, part: 0 | 1) {
  const { abscissa, j0, j1 } = filter();
  const weights = orientation === "HCP" ? j0 : j1;
  const n = abscissa.length;
  let sum = 0;
  for (let k = 0; k < n; k++) {
    const x = abscissa[k]!;
    sum += weights[k]! * (orientation === "VCP" ? x : x * x) * r[part * n + k]!;
  }
  return sum;
}

/** mS/m that an instrument shows for one ppm of quadrature. */
export function mS_per_m_of_ppm({ frequency_Hz, separation_m }: CoilPair): number {
  const omegaMu = 2 * Math.PI * frequency_Hz * 4e-7 * Math.PI;
  return (1e-3 * 4) / (omegaMu * separation_m ** 2);
}

/** In-phase and quadrature of one pair, ppm. */
export function coilPairResponse(earth: Earth, pair: CoilPair & { readonly height_m: number }) {
  const channel = { ...pair, field: "", unit: "ppm" } as const;
  const both = forwardOf([
    { ...channel, kind: "inphase" },
    { ...channel, kind: "quadrature" },
  ]);
  const [inphase_ppm, quadrature_ppm] = both(earth, pair.height_m);
  return { inphase_ppm: inphase_ppm!, quadrature_ppm: quadrature_ppm! };
}
