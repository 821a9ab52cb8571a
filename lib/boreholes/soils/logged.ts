import type { Borehole, LaboratoryValue, Stratum } from "../../survey/survey.js";

/** What is known of a slice counts where it covers this share of its thickness. */
const ENOUGH = 0.6;

interface DepthRange {
  readonly top_m: number;
  readonly base_m: number;
}

/**
 * Mean of a laboratory value over a slice by thickness, each stratum with the mean of its samples;
 * null where strata with samples cover less than 60 % of the slice. Without strata the samples
 * within the slice count alike.
 */
export function laboratoryMean(
  { strata, laboratory }: Borehole,
  slice: DepthRange,
  read: (sample: LaboratoryValue) => number | null,
): number | null {
  if (strata.length === 0) return samplesMean(laboratory, slice, read);
  let [sum, length] = [0, 0];
  for (const stratum of strata) {
    const within = sharedLength(stratum, slice);
    const value = within > 0 ? samplesMean(laboratory, stratum, read) : null;
    if (value === null) continue;
    sum += within * value;
    length += within;
  }
  return length >= ENOUGH * (slice.base_m - slice.top_m) ? sum / length : null;
}

function samplesMean(
  laboratory: readonly LaboratoryValue[],
  { top_m, base_m }: DepthRange,
  read: (sample: LaboratoryValue) => number | null,
): number | null {
  const values = laboratory.flatMap((sample) => {
    const value = sample.depth_m >= top_m && sample.depth_m < base_m ? read(sample) : null;
    return value === null || !Number.isFinite(value) ? [] : [value];
  });
  return values.length === 0 ? null : values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** Share of a slice's logged thickness by principal fraction; null where under 60 % is logged. */
export function classShares(
  strata: readonly Stratum[],
  slice: DepthRange,
): ReadonlyMap<string, number> | null {
  const lengths = new Map<string, number>();
  let total = 0;
  for (const stratum of strata) {
    const within = sharedLength(stratum, slice);
    if (!(within > 0)) continue;
    const soil = principalFraction(stratum.soil);
    lengths.set(soil, (lengths.get(soil) ?? 0) + within);
    total += within;
  }
  if (!(total >= ENOUGH * (slice.base_m - slice.top_m))) return null;
  return new Map([...lengths].map(([soil, length]) => [soil, length / total]));
}

/** The class with the greatest share; of equals the first by name. */
export function greatestShare(shares: ReadonlyMap<string, number>): string {
  const sorted = [...shares].sort(
    (one, other) => other[1] - one[1] || (one[0] < other[0] ? -1 : 1),
  );
  return sorted[0]?.[0] ?? "";
}

const sharedLength = (one: DepthRange, other: DepthRange) =>
  Math.min(one.base_m, other.base_m) - Math.max(one.top_m, other.top_m);

/**
 * The principal fraction of an ISO 14688-1 symbol without its size: the last part that begins with
 * a capital letter, "grSa" and "FSa" giving "Sa". The symbol itself where it has none.
 */
export function principalFraction(soil: string): string {
  const last = soil.match(/[A-Z][a-z]*/g)?.at(-1);
  return last === undefined ? soil : last;
}
