/** Positions of a walk at rising times; those without a variance are not measured. */
export interface MeasuredWalk {
  /** n times, s, never falling. */
  readonly time_s: Float64Array;
  /** n coordinates along two axes, m. */
  readonly x_m: Float64Array;
  readonly y_m: Float64Array;
  /** n variances of a coordinate, m²; Infinity where nothing was measured. */
  readonly variance_m2: Float64Array;
}

export interface SmoothedWalk {
  readonly x_m: Float64Array;
  readonly y_m: Float64Array;
  readonly vx_m_per_s: Float64Array;
  readonly vy_m_per_s: Float64Array;
  /** n standard deviations of a coordinate, m. */
  readonly sd_m: Float64Array;
}

/**
 * How people walk: the standard deviation of their speed along an axis, and how long they keep it.
 */
export const WALKING = Object.freeze({ speedSd_m_per_s: 1.3, keeps_s: 60 });

/**
 * The Kalman filter and the Rauch–Tung–Striebel smoother for a walker whose velocity along each
 * axis is an Ornstein–Uhlenbeck process of mean 0 with the standard deviation and the memory of
 * `WALKING`; the place is its integral. Both axes share their variances, so the gains are worked
 * out once.
 *
 * Source: Rauch, Tung & Striebel 1965, AIAA Journal 3, 1445–1450; the transition of an integrated
 * Ornstein–Uhlenbeck process is its closed form.
 */
export function smoothWalk(walk: MeasuredWalk): SmoothedWalk {
  const filtered = filter(walk);
  smoothBack(walk.time_s, filtered);
  const [east, north] = filtered.axes;
  return {
    x_m: east.x,
    y_m: north.x,
    vx_m_per_s: east.v,
    vy_m_per_s: north.v,
    sd_m: filtered.p.a.map((variance) => Math.sqrt(Math.max(0, variance))),
  };
}

/**
 * Place and velocity along both axes at each time, and the variances of the place (a), of place and
 * velocity (b), of the velocity (c).
 */
function filter({ time_s, x_m, y_m, variance_m2 }: MeasuredWalk) {
  const n = time_s.length;
  const column = () => new Float64Array(n);
  const axes = [
    { x: column(), v: column() },
    { x: column(), v: column() },
  ] as const;
  const p = { a: column(), b: column(), c: column() };
  const start = variance_m2.findIndex((variance) => variance < Number.POSITIVE_INFINITY);
  if (start < 0) throw new RangeError("smoothWalk: one position or more must be measured");
  // A start far wider than any position's error, at the first position there is.
  let [x, vx, y, vy] = [x_m[start]!, 0, y_m[start]!, 0];
  let [a, b, c] = [1e4, 0, WALKING.speedSd_m_per_s ** 2];
  for (let i = 0; i < n; i++) {
    if (i > 0) {
      const { e, k, q11, q12, q22 } = transition(time_s[i]! - time_s[i - 1]!);
      [x, vx, y, vy] = [x + k * vx, e * vx, y + k * vy, e * vy];
      [a, b, c] = [a + 2 * k * b + k * k * c + q11, e * (b + k * c) + q12, e * e * c + q22];
    }
    const variance = variance_m2[i]!;
    if (variance < Number.POSITIVE_INFINITY) {
      const [gain, gainV] = [a / (a + variance), b / (a + variance)];
      const [offX, offY] = [x_m[i]! - x, y_m[i]! - y];
      [x, vx, y, vy] = [x + gain * offX, vx + gainV * offX, y + gain * offY, vy + gainV * offY];
      [a, b, c] = [a * (1 - gain), b * (1 - gain), c - gainV * b];
    }
    [axes[0].x[i], axes[0].v[i], axes[1].x[i], axes[1].v[i]] = [x, vx, y, vy];
    [p.a[i], p.b[i], p.c[i]] = [a, b, c];
  }
  return { axes, p };
}

/** The smoother's way back, written into what the filter gave. */
function smoothBack(time_s: Float64Array, { axes, p }: ReturnType<typeof filter>): void {
  for (let i = time_s.length - 2; i >= 0; i--) {
    const { e, k, q11, q12, q22 } = transition(time_s[i + 1]! - time_s[i]!);
    const [fa, fb, fc] = [p.a[i]!, p.b[i]!, p.c[i]!];
    const pa = fa + 2 * k * fb + k * k * fc + q11;
    const pb = e * (fb + k * fc) + q12;
    const pc = e * e * fc + q22;
    const det = pa * pc - pb * pb;
    // P F' of the filtered variance, times the inverse of the predicted one.
    const [m11, m12, m21, m22] = [fa + k * fb, e * fb, fb + k * fc, e * fc];
    const [g11, g12] = [(m11 * pc - m12 * pb) / det, (m12 * pa - m11 * pb) / det];
    const [g21, g22] = [(m21 * pc - m22 * pb) / det, (m22 * pa - m21 * pb) / det];
    for (const { x, v } of axes) {
      const offX = x[i + 1]! - (x[i]! + k * v[i]!);
      const offV = v[i + 1]! - e * v[i]!;
      x[i]! += g11 * offX + g12 * offV;
      v[i]! += g21 * offX + g22 * offV;
    }
    const [da, db, dc] = [p.a[i + 1]! - pa, p.b[i + 1]! - pb, p.c[i + 1]! - pc];
    p.a[i] = fa + g11 * (g11 * da + g12 * db) + g12 * (g11 * db + g12 * dc);
    p.b[i] = fb + g11 * (g21 * da + g22 * db) + g12 * (g21 * db + g22 * dc);
    p.c[i] = fc + g21 * (g21 * da + g22 * db) + g22 * (g21 * db + g22 * dc);
  }
}

interface Transition {
  /** The velocity's share that is left, and the way gone for a velocity of one. */
  readonly e: number;
  readonly k: number;
  readonly q11: number;
  readonly q12: number;
  readonly q22: number;
}

let latest: { readonly dt_s: number; readonly made: Transition } | null = null;

/** Readings mostly come at even intervals, so the last transition often serves again. */
function transition(dt_s: number): Transition {
  if (latest?.dt_s !== dt_s) latest = { dt_s, made: transitionOver(dt_s) };
  return latest.made;
}

function transitionOver(dt_s: number): Transition {
  const { speedSd_m_per_s: sd, keeps_s: tau } = WALKING;
  // A millisecond at the least between two readings, so that no variance becomes singular.
  const dt = Math.max(dt_s, 1e-3);
  const r = dt / tau;
  const e = Math.exp(-r);
  // The difference of near-equal terms loses its digits for short steps; there its series is exact.
  const spread = r < 1e-2 ? (2 / 3) * r ** 3 * (1 - 0.75 * r) : 2 * r - 3 + 4 * e - e * e;
  return {
    e,
    k: tau * (1 - e),
    q11: sd * sd * tau * tau * spread,
    q12: sd * sd * tau * (1 - e) ** 2,
    q22: sd * sd * (1 - e * e),
  };
}
