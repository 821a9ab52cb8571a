import { studentPoint, studentTwoSided } from "../../numerics/student.js";

/** A straight line through a stretch's ratios over the head. */
export interface HeadFit {
  /** log10 a metre. */
  readonly slope: number;
  /** Σ (h − h̄)², m². */
  readonly spread: number;
  /** Sum of squared residuals. */
  readonly rest: number;
  /** Campaigns less two. */
  readonly dof: number;
}

/** Least squares of y over h, pairs with a missing value left out; null under three or level heads. */
export function fitHead(head: readonly number[], y: readonly number[]): HeadFit | null {
  const present = head.map((_, c) => c).filter((c) => !Number.isNaN(head[c]! + y[c]!));
  const count = present.length;
  if (count < 3) return null;
  const mean = (row: readonly number[]) => present.reduce((sum, c) => sum + row[c]!, 0) / count;
  const [h, v] = [mean(head), mean(y)];
  let [hh, hv, vv] = [0, 0, 0];
  for (const c of present) {
    hh += (head[c]! - h) ** 2;
    hv += (head[c]! - h) * (y[c]! - v);
    vv += (y[c]! - v) ** 2;
  }
  if (!(hh > 1e-6)) return null;
  const slope = hv / hh;
  return { slope, spread: hh, rest: Math.max(0, vv - slope * hv), dof: count - 2 };
}

/** How many campaigns' worth the line's own scatter counts beside a stretch's. */
const BORROWED = 4;

export interface TestedFit {
  readonly slope: number;
  readonly interval: readonly [number, number];
  readonly p: number;
}

/**
 * The slope against none. With few campaigns a stretch tells its own scatter badly, so its variance
 * is weighed with that of the whole line, counted as four campaigns:
 * s² = (4 s₀² + rest) / (4 + dof), tested by Student's t with 4 + dof degrees of freedom.
 *
 * Source: Smyth 2004, Statistical Applications in Genetics and Molecular Biology 3, article 3
 * (moderated t; there the weight is estimated, here it is fixed).
 */
export function testFit(fit: HeadFit, lineVariance: number): TestedFit {
  const dof = fit.dof + BORROWED;
  const variance = (BORROWED * lineVariance + fit.rest) / dof;
  const error = Math.sqrt(variance / fit.spread);
  const reach = studentPoint(0.1, dof) * error;
  return {
    slope: fit.slope,
    interval: [fit.slope - reach, fit.slope + reach],
    p: studentTwoSided(fit.slope / error, dof),
  };
}
