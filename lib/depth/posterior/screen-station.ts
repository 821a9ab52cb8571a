import { AxisView } from "./axis-view.js";
import type { MemberScreen } from "./member-screen.js";

/** Members within so many ln units of the best are drawn from. */
export const REACH = 9;
/** Most members that a station's posterior is held by. */
export const MOST_MEMBERS = 4000;
/** Stations that are screened together: a member's factor is read from memory once for all of them. */
export const TOGETHER = 16;

/** Members within reach of the best, as `screenStations` found them. */
export interface Screened {
  readonly member: Int32Array;
  /** Places of the members in the screen. */
  readonly place: Int32Array;
  readonly score: Float64Array;
  count: number;
  /** The place of the best member. */
  best: number;
}

export function emptyScreened(most: number): Screened {
  const [member, place] = [new Int32Array(most), new Int32Array(most)];
  return { member, place, score: new Float64Array(most), count: 0, best: -1 };
}

interface Screening {
  /** Noise of all channels, as the screen's. */
  readonly sd: Float64Array;
  readonly reach: number;
  /** A place in the screen that is tried first; −1 for none. */
  readonly hint: number;
  /** One for each reading at least. */
  readonly out: readonly Screened[];
}

/**
 * Fills `out`, reading by reading, with the members whose score (ln weight + ln likelihood, but for a
 * constant) comes within `reach` of the best.
 */
export function screenStations(
  screen: MemberScreen,
  readings: readonly Float64Array[],
  { sd, reach, hint, out }: Screening,
): void {
  const view = new AxisView(screen, sd);
  const searches = readings.map(
    (reading, s) => new Search(screen, { reading, view, reach, out: out[s]! }),
  );
  if (hint >= 0) for (const search of searches) search.begin(hint);
  const count = screen.members.length;
  for (let k = 0; k < count; k++) {
    for (let s = 0; s < searches.length; s++) searches[s]!.look(k);
  }
  for (const search of searches) search.end();
}

/** The search for one reading's members. */
class Search {
  private readonly own: Float64Array;
  private readonly residual: Float64Array;
  private readonly half: number;
  private best = Number.NEGATIVE_INFINITY;
  private least = Number.NEGATIVE_INFINITY;
  private found = 0;

  constructor(
    private readonly screen: MemberScreen,
    private readonly given: {
      readonly reading: Float64Array;
      readonly view: AxisView;
      readonly reach: number;
      readonly out: Screened;
    },
  ) {
    const r = screen.axes.length / screen.channels.length;
    this.own = new Float64Array(r);
    this.residual = new Float64Array(r);
    this.half = (r * (r + 1)) / 2;
    given.view.write(given.reading, 0, this.own);
    given.out.best = -1;
  }

  begin(hint: number): void {
    this.best = this.scoreOf(hint);
    this.least = this.best - this.given.reach;
    this.given.out.best = hint;
  }

  look(k: number): void {
    const score = this.scoreOf(k);
    if (!(score >= this.least)) return;
    const { out, reach } = this.given;
    if (score > this.best) {
      this.best = score;
      out.best = k;
      this.least = Math.max(this.least, score - reach);
    }
    if (this.found === out.place.length) this.makeRoom();
    out.place[this.found] = k;
    out.score[this.found] = score;
    this.found += 1;
  }

  end(): void {
    const { out } = this.given;
    this.compact(this.least);
    out.count = this.found;
    for (let i = 0; i < out.count; i++) out.member[i] = this.screen.members[out.place[i]!]!;
  }

  /** The member's score; −Infinity as soon as it falls below the least. */
  private scoreOf(k: number): number {
    const { own, residual, half, least } = this;
    const { value, inverse, constant } = this.screen;
    const r = own.length;
    let score = constant[k]!;
    let at = k * half;
    const from = k * r;
    for (let i = 0; i < r; i++) {
      const left = own[i]! - value[from + i]!;
      residual[i] = left;
      let sum = inverse[at + i]! * left;
      for (let j = 0; j < i; j++) sum += inverse[at + j]! * residual[j]!;
      at += i + 1;
      score -= 0.5 * sum * sum;
      if (score < least) return Number.NEGATIVE_INFINITY;
    }
    return score;
  }

  /** Keeps what is at or above the least score. */
  private compact(least: number): void {
    const { place, score } = this.given.out;
    let kept = 0;
    for (let i = 0; i < this.found; i++) {
      if (score[i]! < least) continue;
      place[kept] = place[i]!;
      score[kept] = score[i]!;
      kept += 1;
    }
    this.found = kept;
  }

  /** Compacts a full list; where that frees less than a quarter, the lower half goes too. */
  private makeRoom(): void {
    const { score } = this.given.out;
    this.compact(this.least);
    if (this.found <= 0.75 * score.length) return;
    this.least = score.slice(0, this.found).sort()[this.found >> 1]!;
    this.compact(this.least);
  }
}
