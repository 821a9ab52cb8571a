import {
  choleskyFactor,
  choleskyLogDeterminant,
  choleskySolve,
  forwardSolve,
} from "../../../../numerics/algebra/cholesky.js";
import { dot } from "../../../../numerics/algebra/dot.js";
import { itemAt } from "../../../../numerics/arrays.js";
import { type Random, seededRandom } from "../../../../numerics/random.js";
import { presentMean } from "../../../../numerics/statistics/present.js";
import {
  ORDINARY_VARIATION,
  variationFactor,
} from "../../../../planning/scene/ground-variation.js";
import type { StretchData } from "../explain/stretch-data.js";
import type { LineInput } from "../line/line-input.js";

export interface RatioStretch {
  readonly first: number;
  readonly last: number;
  readonly data: StretchData;
}

/** One ground that the earlier readings allow. */
export interface Earth {
  /**
   * p × m, noise units: for each layer's relative change of conductivity, linear half way to a change
   * of m ln conductivities.
   */
  readonly about: (change: Float64Array) => Float64Array;
  readonly logWeight: number;
  /** The later campaign's response less that of the same ground, for ln conductivities added. */
  readonly exact: (change: Float64Array) => Float64Array;
}

/** Earths of the earlier campaign that are drawn under each spread of the prior. */
const DRAWS = 8;

/** Errors of the absolute readings that both campaigns share and that cancel in the difference. */
const ABSOLUTE = { gain: 0.03, zero_ppm: 15, height_m: 0.05 };

/** Factors on the prior's spread, weighted by evidence: real banks have contrasts of 100 as well as of 2. */
const SPREADS = [0.5, 1, 2];
const STEPS = 5;

/** Earths that meet the readings of the stretch, disturbed by their errors and by the prior's. */
export function drawnEarths(input: LineInput, stretch: RatioStretch): readonly Earth[] {
  const random = seededRandom(1 + stretch.first + 1000 * stretch.last);
  const readings = absoluteReadings(input, stretch);
  const { top_m } = input.response;
  const prior = variationFactor(top_m, ORDINARY_VARIATION);
  return SPREADS.flatMap((spread) => {
    const at = { ...readings, prior: prior.map((v) => spread * v) };
    const { logEvidence } = fittedColumn(at, { datum: at.observed, free: at.start.map(() => 0) });
    return Array.from({ length: DRAWS }, () => {
      const { column } = fittedColumn(at, disturbed(at, random));
      return { ...earthOf(column, stretch.data, readings.evaluate), logWeight: logEvidence };
    });
  });
}

type Evaluate = (x: Float64Array) => {
  readonly all: Float64Array;
  readonly jacobian: Float64Array;
};

interface Readings {
  /** m: where the search starts. */
  readonly start: Float64Array;
  /** Numbers of the p channels that are present. */
  readonly index: Int32Array;
  /** p readings at the later campaign's temperature, ppm, and their errors. */
  readonly observed: Float64Array;
  readonly own: Float64Array;
  /** p: ppm for coils a standard deviation higher, and numbers of walks. */
  readonly byHeight: Float64Array;
  readonly pass: Int32Array;
  readonly evaluate: Evaluate;
}

function absoluteReadings(input: LineInput, { data, first, last }: RatioStretch): Readings {
  const { response, pair } = input;
  const middle = Math.floor((first + last) / 2);
  const forward = response.forward(middle);
  const m = data.layers;
  const observed = Float64Array.from(data.index, (c) => {
    const mean = presentMean(itemAt(pair.channels, c).earlier.subarray(first, last + 1));
    return mean + response.expected[middle * pair.channels.length + c]!;
  });
  const evaluate = (x: Float64Array) => {
    const [all, jacobian] = [new Float64Array(forward.data), new Float64Array(forward.data * m)];
    forward.evaluate(x, all, jacobian);
    return { all, jacobian };
  };
  return {
    start: response.column(first, last).map((v, j) => v + response.season[j]!),
    index: data.index,
    observed,
    own: observed.map((v) => Math.hypot(ABSOLUTE.gain * v, ABSOLUTE.zero_ppm)),
    byHeight: data.first.map((v, a) => (ABSOLUTE.height_m * v) / data.ppm[a]!),
    pass: data.pass,
    evaluate,
  };
}

function earthOf(
  x: Float64Array,
  { index, ppm, layers: m }: StretchData,
  at: Evaluate,
): Omit<Earth, "logWeight"> {
  const base = at(x).all;
  const about = (change: Float64Array) => {
    // σ half way to the changed one, and derivatives there to the conductivity of the base.
    const half = change.map((v) => Math.log((1 + Math.exp(v)) / 2));
    const { jacobian } = at(x.map((v, j) => v + half[j]!));
    return new Float64Array(index.length * m).map((_, e) => {
      const [a, j] = [Math.floor(e / m), e % m];
      return jacobian[itemAt(index, a) * m + j]! * Math.exp(-half[j]!) * ppm[a]!;
    });
  };
  const exact = (change: Float64Array) => {
    const changed = at(x.map((v, j) => v + change[j]!)).all;
    return Float64Array.from(index, (c, a) => (changed[c]! - base[c]!) * ppm[a]!);
  };
  return { about, exact };
}

interface Column extends Readings {
  /** m × m lower factor. */
  readonly prior: Float64Array;
}

interface Target {
  /** p readings, and the prior's mean in m whitened unknowns. */
  readonly datum: Float64Array;
  readonly free: Float64Array;
}

/** Readings and a prior mean, disturbed: the best column for them is a draw (randomised likelihood). */
function disturbed(at: Column, random: Random): Target {
  const higher = Array.from({ length: 1 + Math.max(0, ...at.pass) }, () => random.normal());
  const datum = at.observed.map(
    (v, a) => v + at.own[a]! * random.normal() + at.byHeight[a]! * itemAt(higher, at.pass[a]!),
  );
  return { datum, free: at.start.map(() => random.normal()) };
}

/** The best column for a target, in whitened unknowns u: x = centre + L u, u about `free`. */
function fittedColumn(at: Column, { datum, free }: Target) {
  const { start, prior } = at;
  const m = start.length;
  const centre = start.reduce((sum, v) => sum + v / m, 0);
  const sd = at.own.map((v, a) => Math.hypot(v, at.byHeight[a]!));
  const off = start.map((v) => v - centre);
  let u = forwardSolve(prior, m, off);
  const columnOf = (whitened: Float64Array) =>
    start.map((_, i) => {
      let sum = centre;
      for (let j = 0; j <= i; j++) sum += prior[i * m + j]! * whitened[j]!;
      return sum;
    });
  let logEvidence = Number.NEGATIVE_INFINITY;
  for (let step = 0; step < STEPS; step++) {
    const { all, jacobian } = at.evaluate(columnOf(u));
    const left = Float64Array.from(at.index, (c, a) => (datum[a]! - all[c]!) / sd[a]!);
    const pull = free.map((v, j) => v - u[j]!);
    const { move, logDeterminant } = columnStep({ ...at, sd, left, pull, jacobian });
    logEvidence = -(dot(left, left) + dot(pull, pull) + logDeterminant) / 2;
    u = u.map((v, j) => v + Math.max(-1, Math.min(1, move[j]!)));
  }
  return { column: columnOf(u), logEvidence };
}

interface Step extends Pick<Column, "index" | "prior"> {
  readonly sd: Float64Array;
  /** p residuals over their deviations, and m of the prior. */
  readonly left: Float64Array;
  readonly pull: Float64Array;
  readonly jacobian: Float64Array;
}

/** A step of Gauss-Newton in whitened unknowns. */
function columnStep({ index, prior, sd, left, pull, jacobian }: Step) {
  const m = pull.length;
  const normal = new Float64Array(m * m).map((_, e) => (e % (m + 1) === 0 ? 1 : 0));
  const right = pull.slice();
  for (const [a, c] of index.entries()) {
    const row = Float64Array.from({ length: m }, (_, j) => {
      let sum = 0;
      for (let i = j; i < m; i++) sum += jacobian[c * m + i]! * prior[i * m + j]!;
      return sum / sd[a]!;
    });
    for (let i = 0; i < m; i++) {
      right[i]! += row[i]! * left[a]!;
      for (let j = 0; j <= i; j++) normal[i * m + j]! += row[i]! * row[j]!;
    }
  }
  const factor = choleskyFactor(normal, m);
  return {
    move: choleskySolve(factor, m, right),
    logDeterminant: choleskyLogDeterminant(factor, m),
  };
}
