import { layerPrior } from "../../../depth/prior/layer-prior.js";
import { sliceWeights } from "../../../depth/slices/choose-slices.js";
import { choleskyFactor, choleskySolve, forwardSolve } from "../../../numerics/algebra/cholesky.js";
import { itemAt } from "../../../numerics/arrays.js";
import { type Random, seededRandom } from "../../../numerics/random.js";
import { presentMean } from "../../../numerics/statistics/present.js";
import type { DepthRange } from "../../ranges.js";
import { type ChangeProfile, SIZES } from "./change-profiles.js";
import type { ModelInput } from "./difference-model.js";
import { profileLogs, profileResponse } from "./explanations.js";
import type { StretchData } from "./stretch-data.js";

/** The change of a slice, ln of later over earlier resistivity, as a weighted sample. */
export interface SliceChange extends DepthRange {
  readonly median: number;
  readonly lo: number;
  readonly hi: number;
  readonly mean: number;
  readonly sd: number;
}

/** Earths of the earlier campaign that are drawn. */
const DRAWS = 16;

export interface RatioStretch {
  readonly first: number;
  readonly last: number;
  readonly data: StretchData;
}

/**
 * The change by slice of both campaigns together. Earths of the earlier campaign are drawn from
 * their posterior under the stretch's mean readings; over each, every profile and size of a change
 * is weighed by how it meets the mean difference.
 */
export function ratioPosterior(
  input: ModelInput,
  stretch: RatioStretch,
  {
    profiles,
    slices,
  }: { readonly profiles: readonly ChangeProfile[]; readonly slices: readonly DepthRange[] },
): readonly SliceChange[] {
  const earths = drawnEarths(input, stretch);
  const logs: Float64Array[] = earths.map((earth) => weighed(stretch, { earth, profiles }));
  const most = Math.max(
    ...logs.map((row) => row.reduce((high, v) => Math.max(high, v), -Infinity)),
  );
  const weight = new Float64Array(profiles.length * SIZES.length);
  for (const row of logs) {
    for (let at = 0; at < row.length; at++) weight[at]! += Math.exp(row[at]! - most);
  }
  const layers = sliceWeights(input.response.top_m, slices);
  return slices.map((slice, s) => {
    const share = profiles.map((one) =>
      one.share.reduce((sum, part, j) => sum + part * itemAt(layers, s)[j]!, 0),
    );
    const change = weight.map(
      (_, at) => share[Math.floor(at / SIZES.length)]! * SIZES[at % SIZES.length]!,
    );
    return { ...slice, ...summary(change, weight) };
  });
}

function summary(value: Float64Array, weight: Float64Array) {
  const order = Array.from(value.keys()).sort((a, b) => value[a]! - value[b]!);
  const total = weight.reduce((sum, w) => sum + w, 0);
  const at = (p: number) => {
    let passed = 0;
    for (const i of order) {
      passed += weight[i]!;
      if (passed >= p * total) return value[i]!;
    }
    return value[order.at(-1)!]!;
  };
  const mean = value.reduce((sum, v, i) => sum + (v * weight[i]!) / total, 0);
  const variance = value.reduce((sum, v, i) => sum + ((v - mean) ** 2 * weight[i]!) / total, 0);
  return { median: at(0.5), lo: at(0.05), hi: at(0.95), mean, sd: Math.sqrt(variance) };
}

interface Earth {
  /** p × m, noise units. */
  readonly byLayer: Float64Array;
  /** The later campaign's response less that of the same ground, for ln conductivities added. */
  readonly exact: (change: Float64Array) => Float64Array;
}

interface Trial {
  readonly earth: Earth;
  readonly profiles: readonly ChangeProfile[];
}

/** Log posterior weights of profiles × sizes; the response is put right at the best of them. */
function weighed({ data }: RatioStretch, { earth, profiles }: Trial): Float64Array {
  const { value, layers } = data;
  const factor = choleskyFactor(data.covariance, value.length);
  let byLayer = earth.byLayer;
  let logs = profileLogs(data, factor, { profiles, byLayer });
  for (let round = 0; round < 2; round++) {
    const best = logs.reduce((high, v, at) => (v > logs[high]! ? at : high), 0);
    const { share } = itemAt(profiles, Math.floor(best / SIZES.length));
    const size = itemAt(SIZES, best % SIZES.length);
    const approximate = profileResponse({ byLayer: earth.byLayer, layers }, share, size);
    const exact = earth.exact(share.map((part) => -size * part));
    const scale = exact.map((v, a) => Math.max(0.3, Math.min(3, v / approximate[a]! || 1)));
    byLayer = earth.byLayer.map((v, at) => v * scale[Math.floor(at / layers)]!);
    logs = profileLogs(data, factor, { profiles, byLayer });
  }
  return logs;
}

/** Errors of the absolute readings that both campaigns share and that cancel in the difference. */
const ABSOLUTE = { gain: 0.02, zero_ppm: 10 };
const PRIOR = { levelSd: 1, layerSd: 0.7, correlation_m: 1 };
const STEPS = 4;

/** Earths that meet the readings of the stretch, disturbed by their errors and by the prior's. */
function drawnEarths(input: ModelInput, stretch: RatioStretch): readonly Earth[] {
  const { data, first, last } = stretch;
  const { response, pair } = input;
  const random = seededRandom(1 + first + 1000 * last);
  const start = response.column(first, last).map((v, j) => v + response.season[j]!);
  const forward = response.forward(Math.floor((first + last) / 2));
  const m = data.layers;
  const observed = Float64Array.from(data.index, (c) => {
    const mean = presentMean(itemAt(pair.channels, c).earlier.subarray(first, last + 1));
    const season = response.expected[Math.floor((first + last) / 2) * pair.channels.length + c]!;
    return mean + season;
  });
  const sd = observed.map((v) => Math.hypot(ABSOLUTE.gain * v, ABSOLUTE.zero_ppm));
  const prior = layerPrior(response.top_m, PRIOR);
  const centre = start.reduce((sum, v) => sum + v / m, 0);
  const evaluate = (x: Float64Array) => {
    const [all, jacobian] = [new Float64Array(forward.data), new Float64Array(forward.data * m)];
    forward.evaluate(x, all, jacobian);
    return { all, jacobian };
  };
  return Array.from({ length: DRAWS }, () => {
    const x = drawnColumn(
      { start, centre, observed, sd, prior: prior.factor, evaluate, index: data.index },
      random,
    );
    const { all, jacobian } = evaluate(x);
    const byLayer = new Float64Array(data.index.length * m).map(
      (_, at) =>
        jacobian[data.index[Math.floor(at / m)]! * m + (at % m)]! * data.ppm[Math.floor(at / m)]!,
    );
    const exact = (change: Float64Array) => {
      const changed = evaluate(x.map((v, j) => v + change[j]!)).all;
      return Float64Array.from(data.index, (c, a) => (changed[c]! - all[c]!) * data.ppm[a]!);
    };
    return { byLayer, exact };
  });
}

interface Column {
  readonly start: Float64Array;
  readonly centre: number;
  readonly observed: Float64Array;
  readonly sd: Float64Array;
  /** m × m lower factor. */
  readonly prior: Float64Array;
  readonly evaluate: (x: Float64Array) => {
    readonly all: Float64Array;
    readonly jacobian: Float64Array;
  };
  readonly index: Int32Array;
}

/** Randomised maximum likelihood: the best column for readings and a prior mean that are disturbed. */
function drawnColumn(at: Column, random: Random): Float64Array {
  const { start, centre, observed, sd, prior, index } = at;
  const m = start.length;
  const datum = observed.map((v, a) => v + sd[a]! * random.normal());
  const free = start.map(() => random.normal());
  // Whitened unknowns u: x = centre + L u, u about `free`.
  let u = forwardSolve(
    prior,
    m,
    start.map((v) => v - centre),
  );
  const columnOf = (whitened: Float64Array) =>
    start.map((_, i) => {
      let sum = centre;
      for (let j = 0; j <= i; j++) sum += prior[i * m + j]! * whitened[j]!;
      return sum;
    });
  for (let step = 0; step < STEPS; step++) {
    const { all, jacobian } = at.evaluate(columnOf(u));
    const normal = new Float64Array(m * m).map((_, e) => (e % (m + 1) === 0 ? 1 : 0));
    const right = free.map((v, j) => v - u[j]!);
    for (const [a, c] of index.entries()) {
      const row = Float64Array.from({ length: m }, (_, j) => {
        let sum = 0;
        for (let i = j; i < m; i++) sum += jacobian[c * m + i]! * prior[i * m + j]!;
        return sum / sd[a]!;
      });
      const left = (datum[a]! - all[c]!) / sd[a]!;
      for (let i = 0; i < m; i++) {
        right[i]! += row[i]! * left;
        for (let j = 0; j <= i; j++) normal[i * m + j]! += row[i]! * row[j]!;
      }
    }
    const move = choleskySolve(choleskyFactor(normal, m), m, right);
    u = u.map((v, j) => v + Math.max(-1, Math.min(1, move[j]!)));
  }
  return columnOf(u);
}
