import { gaussLegendre } from "../../numerics/functions/gauss-legendre.js";

/**
 * Corners of a ground surface in cross-section, left to right; level ground goes on beyond both.
 */
export interface Corner {
  readonly x: number;
  readonly z: number;
}

/** A ground surface as quadrature points of straight panels, ground below. */
export interface Outline {
  readonly x: Float64Array;
  readonly z: Float64Array;
  /** Outward normal. */
  readonly normalX: Float64Array;
  readonly normalZ: Float64Array;
  /** Quadrature weight, m. */
  readonly weight: Float64Array;
}

/** Points of a panel; those of one panel follow one another. */
export const PANEL_POINTS = 4;
const PANEL = gaussLegendre(PANEL_POINTS);

/** How finely and how far a ground surface is followed. */
export interface OutlineScale {
  /** The smallest panel, m, at the corners. */
  readonly smallest: number;
  /** How far the level ground is followed, in sizes of the shape; 10,000. */
  readonly far?: number;
}

/**
 * Panels halve toward every corner, down to `smallest`, and grow by doubling along the level
 * ground. The fields behave like powers of the distance from a corner, which such panels follow.
 */
export function outlineThrough(
  corners: readonly Corner[],
  { smallest, far = 1e4 }: OutlineScale,
): Outline {
  const points: number[][] = [];
  const first = corners[0]!;
  const last = corners.at(-1)!;
  const reach = far * Math.max(last.x - first.x, ...corners.map(({ z }) => Math.abs(z)));
  addSide(points, { x: first.x - reach, z: first.z }, first, [Infinity, smallest]);
  for (let i = 1; i < corners.length; i++) {
    addSide(points, corners[i - 1]!, corners[i]!, [smallest, smallest]);
  }
  addSide(points, last, { x: last.x + reach, z: last.z }, [smallest, Infinity]);
  return inColumns(points);
}

/**
 * Panels of one straight line, halving toward each end down to that end's `smallest`; Infinity:
 * an end that is not halved to.
 */
export function straightLine(p: Corner, q: Corner, smallest: readonly [number, number]): Outline {
  const points: number[][] = [];
  addSide(points, p, q, smallest);
  return inColumns(points);
}

function inColumns(points: readonly number[][]): Outline {
  const column = (k: number) => Float64Array.from(points, (point) => point[k]!);
  return {
    x: column(0),
    z: column(1),
    normalX: column(2),
    normalZ: column(3),
    weight: column(4),
  };
}

function addSide(points: number[][], p: Corner, q: Corner, smallest: readonly number[]): void {
  const length = Math.hypot(q.x - p.x, q.z - p.z);
  const [tx, tz] = [(q.x - p.x) / length, (q.z - p.z) / length];
  const breaks = gradedBreaks(length, smallest);
  for (let i = 1; i < breaks.length; i++) {
    const half = (breaks[i]! - breaks[i - 1]!) / 2;
    for (const [g, node] of PANEL.node.entries()) {
      const s = breaks[i - 1]! + half * (1 + node);
      points.push([p.x + s * tx, p.z + s * tz, -tz, tx, PANEL.weight[g]! * half]);
    }
  }
}

/** Break points 0 … length, halving toward each end down to that end's smallest panel. */
function gradedBreaks(length: number, [start, end]: readonly number[]): number[] {
  const fromStart: number[] = [0];
  const toEnd: number[] = [length];
  const split = start === Infinity ? 0 : end === Infinity ? length : length / 2;
  for (let s = split; s > start!; s /= 2) fromStart.splice(1, 0, s);
  for (let s = length - split; s > end!; s /= 2) toEnd.splice(-1, 0, length - s);
  return [...new Set([...fromStart, ...toEnd])];
}
