import { neighbours } from "../../../../numerics/arrays.js";
import type { ModelInput } from "../line/difference-model.js";
import { heightSteps } from "../line/height-steps.js";
import type { Offset } from "../line/offsets.js";
import { type ChangeProfile, profileCovariance } from "../ratio/change-profiles.js";
import type { ScannedStretch } from "../scan/stretch-scan.js";
import { type ExplainedStretch, explainedStretch } from "./explained-stretch.js";
import { fittedState, type LineState, type StateOptions, scanned } from "./line-state.js";
import { offsetOf, withOffset } from "./offset-choice.js";

export interface FindOptions {
  readonly q: number;
  /** Stations: the shortest stretch, and the gap that is closed between two. */
  readonly least: number;
  readonly join: number;
  readonly mismatch_m: number;
  /** Stations at which a walk, an operator or an instrument begins or ends. */
  readonly ends: readonly number[];
}

/** Log odds of a change of the ground from which on it is stated: under it, it is of no size. */
const LEAST_EVIDENCE = 3;
/** More stretches than this are not looked for. */
const MOST = 60;

const mean = (values: Float64Array) => values.reduce((sum, v) => sum + v / values.length, 0);

type Ends = Pick<ScannedStretch, "first" | "last">;

/**
 * Looks for the most telling stretch, time after time: all channels are fitted anew without the
 * stretches found, the line is scanned, and the best stretch is given to the ground, or to an offset
 * of height or zeros, by evidence. What neither explains stays open, and is weighed again when all
 * else has been found, since what is not yet known of the line passes for its noise.
 */
export class LineSearch {
  private readonly state: StateOptions;
  private readonly taken: Uint8Array<ArrayBuffer>;
  private marks: Uint8Array<ArrayBuffer>;
  private line: LineState;
  private readonly changes: ScannedStretch[] = [];
  private undecided: readonly ScannedStretch[] = [];

  constructor(
    private readonly input: ModelInput,
    private readonly profiles: readonly ChangeProfile[],
    private readonly options: FindOptions,
  ) {
    const n = input.pair.chainage_m.length;
    this.state = { ...options, prior: profileCovariance(profiles) };
    this.taken = new Uint8Array(n);
    this.marks = new Uint8Array(n);
    this.line = this.fitted(this.marks, heightSteps(input, options.ends));
    this.line = this.withoutReturns();
  }

  run() {
    for (let round = 0; round < MOST; round++)
      if (!this.explainsBest() && !this.explainsOpen()) break;
    return { now: this.line, found: this.changes, open: this.undecided, changed: this.marks };
  }

  /** A stretch of a fitted line, and what it may come from. */
  explained({ model, scan }: LineState, { first, last }: Ends): ExplainedStretch {
    const { profiles, options } = this;
    const explain = { profiles, mismatch_m: options.mismatch_m };
    return explainedStretch(this.input, { model, scan, first, last }, explain);
  }

  /**
   * Two steps that lead to another height and back bound a stretch within the line, which the ground
   * may explain: they are left out where it does so better, by the odds of such a stretch.
   */
  private withoutReturns(): LineState {
    const steps = this.line.model.offsets.toSorted((a, b) => a.first - b.first);
    for (const [there, back] of neighbours(steps)) {
      if (!(mean(there.value) * mean(back.value) < 0)) continue;
      const others = steps.filter((one) => one !== there && one !== back);
      const stretch = { first: there.first, last: back.first - 1, ratio: 0, p: 0 };
      const without = this.fitted(this.marked(stretch), others);
      if (this.cause(without, stretch).isGround) return this.fitted(this.marks, others);
    }
    return this.line;
  }

  /** False where no stretch stands out any more. */
  private explainsBest(): boolean {
    const nominee = this.line.scan.best();
    if (nominee === null) return false;
    const without = this.without(nominee);
    const best = without.scan.testedNominee(nominee);
    if (best === null || !(best.p <= this.options.q)) return false;
    const { offset, isGround } = this.cause(without, best);
    const more = withOffset(this.line.model.offsets, offset);
    if (more !== null) {
      this.line = this.fitted(this.marks, more);
      return true;
    }
    this.taken.fill(1, best.first, best.last + 1);
    if (isGround) this.accept(best, without);
    else {
      this.undecided = [...this.undecided, best];
      this.line = this.scannedAnew(this.line);
    }
    return true;
  }

  /** True where an open stretch turned out to be the ground, now that more of the line is known. */
  private explainsOpen(): boolean {
    for (const one of this.undecided) {
      const without = this.without(one);
      if (!this.cause(without, one).isGround) continue;
      this.undecided = this.undecided.filter((other) => other !== one);
      this.accept(one, without);
      return true;
    }
    return false;
  }

  private cause(without: LineState, one: ScannedStretch) {
    const { options, input } = this;
    const { why } = this.explained(without, one);
    const n = this.taken.length;
    const offset = offsetOf(one, why, { ...options, n, spacing_m: input.pair.spacing_m });
    return { offset, isGround: offset === null && why.ground >= LEAST_EVIDENCE };
  }

  private accept(one: ScannedStretch, without: LineState): void {
    this.changes.push(one);
    this.marks = this.marked(one);
    this.line = this.scannedAnew(without);
  }

  /** The line fitted and scanned without a stretch, so that it does not hide itself. */
  private without(one: Ends): LineState {
    return this.fitted(this.marked(one), this.line.model.offsets);
  }

  private marked = ({ first, last }: Ends) => this.marks.slice().fill(1, first, last + 1);

  private fitted(changed: Uint8Array, offsets: readonly Offset[]): LineState {
    return fittedState(this.input, { taken: this.taken, changed, offsets }, this.state);
  }

  private scannedAnew(line: LineState): LineState {
    return scanned(line, { taken: this.taken, changed: this.marks }, this.state);
  }
}
