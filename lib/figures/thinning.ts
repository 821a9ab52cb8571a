/** A curve as its unbroken runs; every run is drawn as a line of its own. */
export interface CurvePoint {
  readonly x: number;
  readonly y: number;
  readonly lo: number;
  readonly hi: number;
  /** Which unbroken run the point belongs to. */
  readonly run: number;
}

export interface Curve {
  readonly x: ArrayLike<number>;
  /** NaN breaks the line. */
  readonly y: ArrayLike<number>;
  readonly lo?: ArrayLike<number>;
  readonly hi?: ArrayLike<number>;
}

/**
 * At most two points a bucket of x (a bucket of 0 keeps every point), the lowest and the highest in the order they came, so that a
 * thinned curve keeps its peaks and its gaps. The first of them carries the bucket's band, which
 * encloses all bands in it; the second has none.
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

function runsOf(curve: Curve): readonly CurvePoint[] {
  const points: CurvePoint[] = [];
  let run = 0;
  let broken = false;
  for (let i = 0; i < curve.x.length; i++) {
    const [x, y] = [curve.x[i]!, curve.y[i]!];
    if (!Number.isFinite(x)) continue;
    if (!Number.isFinite(y)) {
      broken = points.length > 0;
      continue;
    }
    if (broken) run += 1;
    broken = false;
    points.push({ x, y, lo: curve.lo?.[i] ?? Number.NaN, hi: curve.hi?.[i] ?? Number.NaN, run });
  }
  return points;
}

function strongest(held: readonly CurvePoint[]): readonly CurvePoint[] {
  if (held.length <= 2) return held;
  let low = held[0]!;
  let high = held[0]!;
  let [lo, hi] = [Number.NaN, Number.NaN];
  for (const point of held) {
    if (point.y < low.y) low = point;
    if (point.y > high.y) high = point;
    if (!(lo <= point.lo)) lo = Number.isNaN(point.lo) ? lo : point.lo;
    if (!(hi >= point.hi)) hi = Number.isNaN(point.hi) ? hi : point.hi;
  }
  const ordered = low.x <= high.x ? [low, high] : [high, low];
  const [first, second] = ordered as [CurvePoint, CurvePoint];
  const lead = { ...first, lo, hi };
  return low === high ? [lead] : [lead, { ...second, lo: Number.NaN, hi: Number.NaN }];
}
