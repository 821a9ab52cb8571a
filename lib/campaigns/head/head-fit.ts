import { zipped } from "../../numerics/arrays.js";
import { presentMean } from "../../numerics/statistics/present.js";
import { studentPoint, studentTwoSided } from "../../numerics/statistics/student.js";

/** A straight line through a stretch's ratios over the head. */
export interface HeadFit {
  /** log10 a metre. */
  readonly slope: number;
  /** Σ (h − h̄)², m². */
  readonly headSquares: number;
  /** Sum of squared residuals. */
  readonly residualSquares: number;
  /** Campaigns less two. */
  readonly dof: number;
}

/** Least squares of y over h, missing values left out; null for under three or level heads. */
export function fitHead(head: readonly number[], y: readonly number[]): HeadFit | null {
  const rows = presentPairs(head, y);
  const count = rows.length;
  if (count < 3) return null;
  const [h, v] = pairMeans(rows);
  let [hh, hv, vv] = [0, 0, 0];
  for (const [x, value] of rows) {
    hh += (x - h) ** 2;
    hv += (x - h) * (value - v);
    vv += (value - v) ** 2;
  }
  if (!(hh > 1e-6)) return null;
  const slope = hv / hh;
  const residualSquares = Math.max(0, vv - slope * hv);
  return { slope, headSquares: hh, residualSquares, dof: count - 2 };
}

type Pairs = readonly (readonly [number, number])[];

/** Pairs of two rows of one length in which neither value is missing. */
export const presentPairs = (one: readonly number[], other: readonly number[]): Pairs =>
  zipped(one, other).filter(([x, y]) => !Number.isNaN(x + y));

export const pairMeans = (rows: Pairs): readonly [number, number] => [
  presentMean(rows.map(([x]) => x)),
  presentMean(rows.map(([, y]) => y)),
];

/** Degrees of freedom of the line's variance beside a stretch's own. */
const LINE_CAMPAIGNS = 4;

interface TestedFit {
  readonly slope: number;
  readonly interval: readonly [number, number];
  readonly p: number;
}

/**
 * Tests the slope against none. With few campaigns the variance of one stretch is uncertain, so it
 * is pooled with that of the whole line, which counts as four campaigns:
 * s² = (4 s₀² + residual squares) / (4 + dof), Student's t with 4 + dof degrees of freedom.
 *
 * Source: Smyth 2004, Statistical Applications in Genetics and Molecular Biology 3, article 3
 * (moderated t; there the weight is estimated, here it is fixed).
 */
export function moderatedTest(fit: HeadFit, lineVariance: number): TestedFit {
  const dof = fit.dof + LINE_CAMPAIGNS;
  const variance = (LINE_CAMPAIGNS * lineVariance + fit.residualSquares) / dof;
  const error = Math.sqrt(variance / fit.headSquares);
  const reach = studentPoint(0.1, dof) * error;
  return {
    slope: fit.slope,
    interval: [fit.slope - reach, fit.slope + reach],
    p: studentTwoSided(fit.slope / error, dof),
  };
}
