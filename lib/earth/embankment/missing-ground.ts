import { gaussLegendre } from "../../numerics/functions/gauss-legendre.js";
import type { CoilGeometry } from "../coil-quadrature.js";
import { AXES, streamGradient } from "./coil-dipole.js";

/** One side of an embankment seen from the line: where its crest ends, and how it falls. */
export interface BankSide {
  readonly edge_m: number;
  /** Horizontal per 1 vertical. */
  readonly slope: number;
}

const DOWN = gaussLegendre(5);
const ACROSS = gaussLegendre(20);
const ALONG = gaussLegendre(20);
/** How far beyond the slope, and along the line, in the larger of distance and separation. */
const REACH = 300;

/**
 * What level ground has beside an embankment, between its side and for ever, by slices of depth
 * below the crest (`breaks_m`, rising): ∫ A₁·A₂ dV of each slice.
 */
export function missingGround(
  side: BankSide,
  coils: CoilGeometry,
  breaks_m: readonly number[],
): Float64Array {
  return Float64Array.from({ length: breaks_m.length - 1 }, (_, i) => {
    let sum = 0;
    for (const [from, to] of doublings(side, coils, [breaks_m[i]!, breaks_m[i + 1]!])) {
      const half = (to - from) / 2;
      for (let g = 0; g < DOWN.node.length; g++) {
        const depth = from + half * (1 + DOWN.node[g]!);
        const x = side.edge_m + side.slope * depth;
        sum += half * DOWN.weight[g]! * beyond({ x, depth: depth + coils.height_m }, coils);
      }
    }
    return sum;
  });
}

type Span = readonly [from: number, to: number];

/** A span of depths, cut where the distance from the line has doubled. */
function doublings({ edge_m }: BankSide, { height_m }: CoilGeometry, [from, to]: Span): Span[] {
  const near = Math.hypot(edge_m, height_m);
  const spans: Span[] = [];
  for (let at = from; at < to; ) {
    const next = Math.min(to, 2 * at + near);
    spans.push([at, next]);
    at = next;
  }
  return spans;
}

interface Place {
  readonly x: number;
  /** Below the coils. */
  readonly depth: number;
}

/** ∫∫ A₁·A₂ dx dy from x on outward, at one depth. */
function beyond({ x, depth }: Place, coils: CoilGeometry): number {
  const near = Math.hypot(x, depth);
  const half = Math.log1p((REACH * Math.max(near, coils.separation_m)) / near) / 2;
  let sum = 0;
  for (let g = 0; g < ACROSS.node.length; g++) {
    const v = half * (1 + ACROSS.node[g]!);
    const at = { x: x + near * Math.expm1(v), depth };
    sum += half * ACROSS.weight[g]! * near * Math.exp(v) * strip(at, coils);
  }
  return sum;
}

const first = new Float64Array(2);
const second = new Float64Array(2);

/**
 * ∫ A₁·A₂ dy: from midway between the coils outward, dense about each on the scale of its distance.
 */
function strip({ x, depth }: Place, { orientation, separation_m: s }: CoilGeometry): number {
  const [transmitter, receiver] = AXES[orientation];
  const near = Math.hypot(x, depth);
  const low = -Math.asinh(s / (2 * near));
  const half = (Math.asinh((REACH * Math.max(near, s)) / near) - low) / 2;
  let sum = 0;
  for (let g = 0; g < ALONG.node.length; g++) {
    const u = low + half * (1 + ALONG.node[g]!);
    const y = near * Math.sinh(u);
    const weight = half * ALONG.weight[g]! * near * Math.cosh(u);
    for (const [fromFirst, fromSecond] of [
      [-y, -y - s],
      [y + s, y],
    ] as const) {
      streamGradient(transmitter, { x, y: fromFirst, depth }, first);
      streamGradient(receiver, { x, y: fromSecond, depth }, second);
      sum += weight * (first[0]! * second[0]! + first[1]! * second[1]!);
    }
  }
  return sum;
}
