// What a correction leaves of a drift that is known.
//
// The definitions. Trend left: the true drift less the corrected one at every reading of the walk,
// less its mean (a constant level is no trend), as a root mean square. The checks' own error: the
// standard error of one visit's mean, of the scatter of its repeats and of setting the coils down
// anew, both as simulated. Band: one value of `driftSd` each way, times 1.2816, of what the
// correction left since the first visit, reading by reading.
//
// The surveys: tests/support/drift-kinds.ts. The hypotheses, their sizes and `evidence` were chosen
// on the seeds 1 to 200; these are others. The figures of 1000 surveys: tests/calibration.md.
import { beforeAll, describe, expect, it } from "vitest";
import { correctDrift } from "../../lib/drift/correct-drift.js";
import {
  driftSurvey,
  type Kind,
  kinds,
  type Leftover,
  leftoverOf,
} from "../support/drift-kinds.js";

/** Surveys; more by the environment, a tenth of a second each. */
const SURVEYS = Number(process.env.DRIFT_SURVEYS ?? 200);
const FIRST_SEED = 40_001;

interface Row {
  readonly kind: Kind;
  /** What the drift ranges over, in errors of one visit. */
  readonly size: number;
  /** In errors of one visit. */
  readonly trend: number;
  readonly before: number;
  readonly line: number;
  readonly held: number;
  readonly untouched: boolean;
}

function rowsOf(seed: number, visits: number): readonly Row[] {
  const { campaign, visitError, size } = driftSurvey(seed, visits);
  const { value } = correctDrift(campaign);
  return kinds.map((kind, c): Row => {
    const [left, before]: readonly Leftover[] = [leftoverOf(value, c), leftoverOf(campaign, c)];
    const unit = visitError[c]!;
    return {
      kind,
      size: size[c]!,
      trend: left!.trend / unit,
      before: before!.trend / unit,
      line: left!.line / unit,
      held: left!.held,
      untouched: value.drift[c]!.model === "none",
    };
  });
}

const share = (rows: readonly Row[], is: (row: Row) => boolean) =>
  rows.filter(is).length / rows.length;
const average = (rows: readonly Row[], of: (row: Row) => number) =>
  rows.reduce((sum, row) => sum + of(row), 0) / rows.length;
/** Two standard errors of a share seen in n surveys. */
const twoErrors = (expected: number, n: number) => 2 * Math.sqrt((expected * (1 - expected)) / n);
const isUnderError = ({ trend }: Row) => trend < 1;

let rows: readonly Row[] = [];
let drifting: readonly Row[] = [];
let steady: readonly Row[] = [];

beforeAll(() => {
  rows = Array.from({ length: SURVEYS }, (_, i) => rowsOf(FIRST_SEED + i, 8 + (i % 5))).flat();
  drifting = rows.filter(({ kind }) => kind !== "none");
  steady = rows.filter(({ kind }) => kind === "none");
});

describe("the trend that correctDrift leaves, with 8 to 12 visits", () => {
  it("is under one visit's own error in more than nine of ten surveys that drift", () => {
    const seen = share(drifting, isUnderError);
    expect(seen).toBeGreaterThan(0.9 + twoErrors(0.9, drifting.length));
  });

  it.each(kinds.filter((kind) => kind !== "none"))(
    "is so in nine of ten of each kind (%s)",
    (kind) => {
      const own = rows.filter((row) => row.kind === kind);
      expect(share(own, isUnderError)).toBeGreaterThan(0.9 - twoErrors(0.9, own.length));
    },
  );

  it("is so where the drift is large as well, and would not be without a correction", () => {
    const large = drifting.filter(({ size }) => size > 5);
    expect(share(large, ({ before }) => before < 1)).toBeLessThan(0.05);
    expect(share(large, isUnderError)).toBeGreaterThan(0.9 + twoErrors(0.9, large.length));
  });

  it("is hardly ever larger than before", () => {
    const worse = share(drifting, ({ trend, before }) => trend > before);
    expect(worse).toBeLessThan(0.01 + twoErrors(0.01, drifting.length));
  });

  it("does not grow in a survey without drift: 19 in 20 stay untouched", () => {
    expect(share(steady, ({ untouched }) => untouched)).toBeGreaterThan(
      0.95 - twoErrors(0.95, steady.length),
    );
    expect(share(steady, isUnderError)).toBeGreaterThan(0.99 - twoErrors(0.99, steady.length));
    expect(average(steady, ({ trend }) => trend)).toBeLessThan(0.05);
  });
});

describe("the trend that correctDrift leaves, with six visits", () => {
  it("is under one visit's own error in nine of ten, but not where the drift swings", () => {
    const few = Array.from({ length: SURVEYS / 2 }, (_, i) => rowsOf(FIRST_SEED + i, 6)).flat();
    const seen = (kind: Kind) =>
      share(
        few.filter((row) => row.kind === kind),
        isUnderError,
      );
    const limit = 0.9 - twoErrors(0.9, SURVEYS / 2);
    for (const kind of ["linear", "warming up", "stepped"] as const) {
      expect(seen(kind)).toBeGreaterThan(limit);
    }
    expect(seen("swinging")).toBeLessThan(limit);
  });
});

describe("driftSd of correctDrift, with 8 to 12 visits", () => {
  it("is an honest band: four of five readings lie in the 80 % of it", () => {
    for (const some of [drifting, rows]) {
      const held = average(some, (row) => row.held);
      expect(held).toBeGreaterThan(0.76);
      expect(held).toBeLessThan(0.84);
    }
  });
});
