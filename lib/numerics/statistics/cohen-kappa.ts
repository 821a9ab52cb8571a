import { quoted, StepError } from "../step-error.js";

/** Agreement of two classifications beyond chance. */
export interface Kappa {
  /** 1 where they agree throughout, 0 where as often as by chance; NaN where chance gives 1. */
  readonly kappa: number;
  /** Large-sample standard error, for independent items. */
  readonly standardError: number;
  /** The share of items on which they agree. */
  readonly agreement: number;
}

/**
 * Cohen's kappa of a square table of counts (rows: one's classes, columns: the other's), with its
 * large-sample standard error. Counts need not be whole: weights such as effective counts will do.
 *
 * κ = (p_o − p_e) / (1 − p_e). Variance by the delta method, which for κ ≠ 0 is
 * { Σ p_ii [1 − (p_i. + p_.i)(1 − κ)]² + (1 − κ)² Σ_{i≠j} p_ij (p_.i + p_j.)² −
 * [κ − p_e (1 − κ)]² } / (n (1 − p_e)²).
 * An empty table gives NaN throughout. Throws a StepError where the table is not square or a count
 * is not a number of 0 or more.
 *
 * Source: Cohen 1960, Educational and Psychological Measurement 20, 37–46; Fleiss, Cohen & Everitt
 * 1969, Psychological Bulletin 72, 323–327 (standard error).
 *
 * @example cohenKappa([[20, 5], [10, 15]]).kappa; // 0.4
 */
export function cohenKappa(counts: readonly (readonly number[])[]): Kappa {
  refuseBadCounts(counts);
  const n = counts.reduce((sum, row) => sum + row.reduce((s, value) => s + value, 0), 0);
  const p = counts.map((row) => row.map((value) => value / n));
  const rows = p.map((row) => row.reduce((sum, value) => sum + value, 0));
  const columns = p.map((_, j) => p.reduce((sum, row) => sum + row[j]!, 0));
  const agreement = p.reduce((sum, row, i) => sum + row[i]!, 0);
  const chance = rows.reduce((sum, value, i) => sum + value * columns[i]!, 0);
  const kappa = n > 0 && chance < 1 ? (agreement - chance) / (1 - chance) : Number.NaN;
  const off = 1 - kappa;
  let diagonal = 0;
  let rest = 0;
  for (let i = 0; i < p.length; i++) {
    for (let j = 0; j < p.length; j++) {
      if (i === j) diagonal += p[i]![i]! * (1 - (rows[i]! + columns[i]!) * off) ** 2;
      else rest += p[i]![j]! * (columns[i]! + rows[j]!) ** 2;
    }
  }
  const spread = diagonal + off * off * rest - (kappa - chance * off) ** 2;
  const standardError = Math.sqrt(Math.max(0, spread) / n) / (1 - chance);
  return { kappa, standardError, agreement };
}

function refuseBadCounts(counts: readonly (readonly number[])[]): void {
  const bad = counts.findIndex(
    (row) => row.length !== counts.length || !row.every((value) => value >= 0),
  );
  if (bad < 0) return;
  const expected = `a row of ${counts.length} counts, each at least 0`;
  const received = quoted(counts[bad]);
  throw new StepError("cohenKappa", [
    { code: "counts", path: `counts[${bad}]`, expected, received },
  ]);
}
