import { TOGETHER, vectorKernels } from "../../numerics/wasm/kernels.js";
import { AxisView } from "./axis-view.js";
import type { MemberScreen } from "./member-screen.js";

/** Members within so many ln units of the best are drawn from. */
export const REACH = 9;
/** Most members that a station's posterior is held by. */
export const MOST_MEMBERS = 4000;

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
  screening: Screening,
): void {
  for (let from = 0; from < readings.length; from += TOGETHER) {
    const some = readings.slice(from, from + TOGETHER);
    const out = screening.out.slice(from, from + TOGETHER);
    screenTogether(screen, some, { ...screening, out });
  }
}

/** Members that are scored before what is within reach is looked for among them. */
const BATCH = 64;

function screenTogether(
  screen: MemberScreen,
  readings: readonly Float64Array[],
  { sd, reach, hint, out }: Screening,
): void {
  const view = new AxisView(screen, sd);
  const scores = new Scores(screen, view, readings);
  const searches = readings.map((_, s) => new Search(reach, out[s]!));
  if (hint >= 0) {
    scores.of(hint, 1);
    for (const [s, search] of searches.entries()) search.begin(hint, scores.score[s]!);
  }
  for (let from = 0; from < screen.members.length; from += BATCH) {
    const count = Math.min(BATCH, screen.members.length - from);
    for (const [s, search] of searches.entries()) scores.least[s] = search.least;
    scores.of(from, count);
    for (const [s, search] of searches.entries()) {
      for (let k = 0, at = s; k < count; k++, at += TOGETHER) {
        search.look(from + k, scores.score[at]!);
      }
    }
  }
  for (const search of searches) search.end(screen);
}

/** Scores of members one after the other, a row of readings each, in the kernels' memory. */
class Scores {
  readonly score: Float64Array;
  /** What a reading's scores have to reach to be worth finishing. */
  readonly least: Float64Array;
  private readonly constant: Float64Array;
  private readonly value: Float32Array;
  private readonly inverse: Float32Array;
  private readonly own: Float64Array;
  private readonly left: Float64Array;

  constructor(
    private readonly screen: MemberScreen,
    view: AxisView,
    readings: readonly Float64Array[],
  ) {
    const { r } = view;
    const sizes = [TOGETHER * BATCH, BATCH, (BATCH * r) / 2, (BATCH * r * (r + 1)) / 4];
    const rows = [TOGETHER * r, TOGETHER * r, TOGETHER];
    const columns = vectorKernels().columns(...sizes, ...rows);
    const singles = (column: Float64Array) =>
      new Float32Array(column.buffer, column.byteOffset, 2 * column.length);
    [this.score, this.constant] = [columns[0]!, columns[1]!];
    [this.value, this.inverse] = [singles(columns[2]!), singles(columns[3]!)];
    [this.own, this.left, this.least] = [columns[4]!, columns[5]!, columns[6]!];
    this.own.fill(0);
    this.least.fill(Number.POSITIVE_INFINITY);
    const one = new Float64Array(r);
    for (const [s, reading] of readings.entries()) {
      view.write(reading, 0, one);
      for (let i = 0; i < r; i++) this.own[i * TOGETHER + s] = one[i]!;
      this.least[s] = Number.NEGATIVE_INFINITY;
    }
  }

  /** Fills `score` with those of `count` members from a place on. */
  of(from: number, count: number): void {
    const { screen, score, constant, value, inverse, own, left, least } = this;
    const r = own.length / TOGETHER;
    const half = (r * (r + 1)) / 2;
    constant.set(screen.constant.subarray(from, from + count));
    value.set(screen.value.subarray(from * r, (from + count) * r));
    inverse.set(screen.inverse.subarray(from * half, (from + count) * half));
    vectorKernels().run.scoreMembers(
      ...[score.byteOffset, constant.byteOffset, value.byteOffset, inverse.byteOffset],
      ...[count, r, own.byteOffset, left.byteOffset, least.byteOffset],
    );
  }
}

/** The search for one reading's members. */
class Search {
  /** What a score has to reach as yet. */
  least = Number.NEGATIVE_INFINITY;
  private best = Number.NEGATIVE_INFINITY;
  private found = 0;

  constructor(
    private readonly reach: number,
    private readonly out: Screened,
  ) {
    out.best = -1;
  }

  begin(hint: number, score: number): void {
    this.best = score;
    this.least = score - this.reach;
    this.out.best = hint;
  }

  look(k: number, score: number): void {
    if (!(score >= this.least)) return;
    const { out, reach } = this;
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

  end({ members }: MemberScreen): void {
    const { out } = this;
    this.compact(this.least);
    out.count = this.found;
    for (let i = 0; i < out.count; i++) out.member[i] = members[out.place[i]!]!;
  }

  /** Keeps what is at or above the least score. */
  private compact(least: number): void {
    const { place, score } = this.out;
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
    const { score } = this.out;
    this.compact(this.least);
    if (this.found <= 0.75 * score.length) return;
    this.least = score.slice(0, this.found).sort()[this.found >> 1]!;
    this.compact(this.least);
  }
}
