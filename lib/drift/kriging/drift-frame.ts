import { dot } from "../../numerics/algebra/dot.js";
import { type DriftDatum, isLevel, spanOf } from "../checks/drift-datum.js";

/** Data of one channel and the trend in them that is not known beforehand. */
export interface DriftFrame {
  readonly data: readonly DriftDatum[];
  readonly start_s: number;
  readonly span_h: number;
  /** Level at the spot, slope and size of each step, as far as the data determine them. */
  readonly terms: readonly TrendTerm[];
  /** The design matrix by columns: for each term, its part in each of the n data. */
  readonly design: readonly Float64Array[];
}

export type TrendTerm =
  | { readonly kind: "level" }
  | { readonly kind: "slope" }
  | { readonly kind: "step"; readonly time_s: number };

const HOUR_S = 3600;
/** A term stays where this share of its column at least is independent of the columns before. */
const INDEPENDENT_SHARE = 1e-8;

/** @param wished terms of the trend; those that depend linearly on earlier ones are left out */
export function driftFrame(data: readonly DriftDatum[], wished: readonly TrendTerm[]): DriftFrame {
  const [start_s, end_s] = spanOf(data);
  const span = { start_s, span_h: (end_s - start_s) / HOUR_S };
  const columns = independent(wished.map((term) => [term, columnOf(term, data, span)] as const));
  const terms = columns.map(([term]) => term);
  return { data, ...span, terms, design: columns.map(([, column]) => column) };
}

type Span = Pick<DriftFrame, "start_s" | "span_h">;

/** The part of a term in the drift at one time. */
export function termAt(term: TrendTerm, time_s: number, { start_s, span_h }: Span): number {
  if (term.kind === "level") return 0;
  if (term.kind === "step") return time_s > term.time_s ? 1 : 0;
  return hours(time_s, start_s) / (span_h > 0 ? span_h : 1);
}

export function hours(time_s: number, start_s: number): number {
  return (time_s - start_s) / HOUR_S;
}

function columnOf(term: TrendTerm, data: readonly DriftDatum[], span: Span): Float64Array {
  return Float64Array.from(data, (datum) => {
    if (term.kind === "level") return isLevel(datum) ? 1 : 0;
    const before = isLevel(datum) ? 0 : termAt(term, datum.minus_s, span);
    return termAt(term, datum.time_s, span) - before;
  });
}

type Column = readonly [TrendTerm, Float64Array];

/** The columns that are linearly independent, earlier ones first (Gram and Schmidt). */
function independent(columns: readonly Column[]): readonly Column[] {
  const kept: Column[] = [];
  const basis: Float64Array[] = [];
  for (const [term, column] of columns) {
    const rest = Float64Array.from(column);
    for (const axis of basis) {
      const along = dot(axis, rest);
      for (let i = 0; i < rest.length; i++) rest[i]! -= along * axis[i]!;
    }
    const left = dot(rest, rest);
    if (!(left > INDEPENDENT_SHARE * dot(column, column))) continue;
    basis.push(rest.map((value) => value / Math.sqrt(left)));
    kept.push([term, column]);
  }
  return kept;
}
