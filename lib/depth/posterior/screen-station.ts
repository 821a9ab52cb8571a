import type { MemberScreen } from "./member-screen.js";

/** Members within so many ln units of the best are drawn from. */
export const REACH = 9;
/** Most members that a station's posterior is held by. */
export const MOST_MEMBERS = 4000;

/** Members within reach of the best, as `screenStation` found them. */
export interface Screened {
  readonly member: Int32Array;
  readonly score: Float64Array;
  count: number;
  /** The best member. */
  best: number;
}

export function emptyScreened(most: number): Screened {
  return { member: new Int32Array(most), score: new Float64Array(most), count: 0, best: -1 };
}

interface Screening {
  readonly reach: number;
  /** A member that is tried first; −1 for none. */
  readonly hint: number;
  readonly out: Screened;
}

/**
 * Fills `out` with the members whose score (ln weight + ln likelihood, but for a constant) comes
 * within `reach` of the best.
 */
export function screenStation(
  screen: MemberScreen,
  reading: Float64Array,
  { reach, hint, out }: Screening,
): void {
  const c = screen.channels.length;
  const own = Float64Array.from(screen.channels, (d) => reading[d]!);
  const residual = new Float64Array(c);
  let best = Number.NEGATIVE_INFINITY;
  if (hint >= 0) best = scoreOf(screen, hint, { own, residual, least: best });
  out.best = hint;
  const { value, inverse, constant } = screen;
  const half = (c * (c + 1)) / 2;
  const count = constant.length;
  let found = 0;
  let least = best - reach;
  const far = Number.NEGATIVE_INFINITY;
  for (let k = 0; k < count; k++) {
    // The first channel alone leaves most members behind.
    const first = (own[0]! - value[k * c]!) * inverse[k * half]!;
    if (!(constant[k]! - 0.5 * first * first >= least && constant[k]! > far)) continue;
    const score = scoreOf(screen, k, { own, residual, least });
    if (score < least) continue;
    if (score > best) {
      best = score;
      out.best = k;
      least = best - reach;
    }
    if (found === out.member.length) [found, least] = madeRoom(out, least);
    out.member[found] = k;
    out.score[found] = score;
    found += 1;
  }
  out.count = compact(out, found, least);
}

/** Keeps what is at or above the least score. */
function compact(out: Screened, found: number, least: number): number {
  let kept = 0;
  for (let i = 0; i < found; i++) {
    if (out.score[i]! < least) continue;
    out.member[kept] = out.member[i]!;
    out.score[kept] = out.score[i]!;
    kept += 1;
  }
  return kept;
}

/** Compacts a full list; where that frees less than a quarter, the lower half goes too. */
function madeRoom(out: Screened, least: number): readonly [found: number, least: number] {
  const most = out.member.length;
  const found = compact(out, most, least);
  if (found <= 0.75 * most) return [found, least];
  const middle = out.score.slice(0, found).sort()[found >> 1]!;
  return [compact(out, found, middle), middle];
}

interface Scoring {
  readonly own: Float64Array;
  readonly residual: Float64Array;
  readonly least: number;
}

/** The member's score; −Infinity as soon as it falls below the least. */
function scoreOf(screen: MemberScreen, k: number, { own, residual, least }: Scoring): number {
  const c = own.length;
  const { value, inverse } = screen;
  let score = screen.constant[k]!;
  let at = k * ((c * (c + 1)) / 2);
  for (let i = 0; i < c; i++) {
    residual[i] = own[i]! - value[k * c + i]!;
    let sum = 0;
    for (let j = 0; j <= i; j++) sum += inverse[at + j]! * residual[j]!;
    at += i + 1;
    score -= 0.5 * sum * sum;
    if (score < least) return Number.NEGATIVE_INFINITY;
  }
  return score;
}
