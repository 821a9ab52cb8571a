import { seededRandom } from "../../../../lib/numerics/random.js";

export const N = 300;
const GAP = [120, 150] as const;

/** Two columns of N samples with a step at 100, a gap, single samples that are missing or less certain. */
export function gappedLine(seed: number) {
  const random = seededRandom(seed);
  const isMissing = (i: number) => (i >= GAP[0] && i < GAP[1]) || i % 37 === 5;
  const columns = [0.5, 0.3].map((step) =>
    Float64Array.from({ length: N }, (_, i) => {
      const value = (i < 100 ? 0 : step) + 0.1 * random.normal();
      return isMissing(i) ? Number.NaN : value;
    }),
  );
  const excess = Float64Array.from({ length: N }, (_, i) => {
    if (isMissing(i)) return Number.NaN;
    return i % 11 === 0 ? 0.7 : 0;
  });
  return { columns, excess, spacing_m: 2, effectiveColumns: 1.5, floor: [1e-4, 1e-4] };
}
