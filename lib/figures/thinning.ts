import { extent } from "./numbers.js";

/** A point of a curve; each of the curve's unbroken runs is drawn as a line of its own. */
interface CurvePoint {
  readonly x: number;
  readonly y: number;
  readonly lo: number;
  readonly hi: number;
  /** Which unbroken run the point belongs to. */
  readonly run: number;
}

interface Curve {
  readonly x: ArrayLike<number>;
  /** NaN breaks the line. */
  readonly y: ArrayLike<number>;
  readonly lo?: ArrayLike<number>;
  readonly hi?: ArrayLike<number>;
}

/**
 * At most two points a bucket of x (a bucket of 0 keeps every point), the lowest and the highest in
 * the order they came, so that a thinned curve keeps its peaks and its gaps. The first of them
 * carries the bucket's band, which encloses all bands in it; the second has none.
 */
export function thinned(curve: Curve, bucket: number): readonly CurvePoint[] {
  const points: CurvePoint[] = [];
  let held: CurvePoint[] = [];
  const flush = () => {
    points.push(...strongest(held));
    held = [];
  };
  for (const point of runsOf(curve)) {
    const first = held[0];
    const same =
      bucket > 0 &&
      first?.run === point.run &&
      Math.floor(first.x / bucket) === Math.floor(point.x / bucket);
    if (!same) flush();
    held.push(point);
  }
  flush();
  return points;
}

function runsOf({ x, y, lo, hi }: Curve): readonly CurvePoint[] {
  const points: CurvePoint[] = [];
  const at = (values: ArrayLike<number> | undefined, i: number) => values?.[i] ?? Number.NaN;
  let run = 0;
  let broken = false;
  for (let i = 0; i < x.length; i++) {
    if (!Number.isFinite(x[i])) continue;
    if (!Number.isFinite(y[i])) {
      broken = points.length > 0;
      continue;
    }
    if (broken) run += 1;
    broken = false;
    points.push({ x: at(x, i), y: at(y, i), lo: at(lo, i), hi: at(hi, i), run });
  }
  return points;
}

/** The lowest and the highest point, as they came; the first of them with all bands. */
function strongest(held: readonly CurvePoint[]): readonly CurvePoint[] {
  if (held.length <= 2) return held;
  const low = held.reduce((least, point) => (point.y < least.y ? point : least));
  const high = held.reduce((most, point) => (point.y > most.y ? point : most));
  const lo = extent([held.map((point) => point.lo)])?.[0] ?? Number.NaN;
  const hi = extent([held.map((point) => point.hi)])?.[1] ?? Number.NaN;
  const [first, second] = low.x <= high.x ? [low, high] : [high, low];
  const lead = { ...first, lo, hi };
  return low === high ? [lead] : [lead, { ...second, lo: Number.NaN, hi: Number.NaN }];
}
