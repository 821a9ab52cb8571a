import {
  choleskyFactor,
  choleskyLogDeterminant,
  choleskySolve,
  forwardSolve,
} from "../../../numerics/algebra/cholesky.js";
import { dot } from "../../../numerics/algebra/dot.js";
import { itemAt } from "../../../numerics/arrays.js";
import { type ChangeProfile, SIZE_WEIGHTS, SIZES } from "./change-profiles.js";
import type { StretchData } from "./stretch-data.js";

/** What a stretch's difference may come from, each with its log evidence over no difference. */
export interface Explanations {
  readonly ground: number;
  /** Coils carried higher or lower, walk by walk, m. */
  readonly height: Offsets;
  /** Zeros of the channels, ppm, by channel of the pair. */
  readonly zero: Offsets;
}

interface Offsets {
  readonly evidence: number;
  readonly value: Float64Array;
}

const HEIGHT_SD_M = 0.1;
const ZERO_SD_PPM = 25;

export function explanations(
  data: StretchData,
  profiles: readonly ChangeProfile[],
  sizes: { readonly passes: number; readonly channels: number },
): Explanations {
  const p = data.value.length;
  const factor = choleskyFactor(data.covariance, p);
  return {
    ground: groundEvidence(data, factor, profiles),
    height: heightEvidence(data, factor, sizes.passes),
    zero: zeroEvidence(data, sizes.channels),
  };
}

/** Mean likelihood over profiles and sizes. */
function groundEvidence(
  data: StretchData,
  factor: Float64Array,
  profiles: readonly ChangeProfile[],
): number {
  const logs = profileLogs(data, factor, { profiles, byLayer: data.byLayer });
  return logSum(logs) - Math.log(SIZE_WEIGHTS.reduce((sum, w) => sum + w, 0));
}

interface Tried {
  readonly profiles: readonly ChangeProfile[];
  /** p × m, noise units. */
  readonly byLayer: Float64Array;
}

/**
 * For each profile and size, ln of its prior weight times the likelihood over that of no change.
 * The response Σ_j ∂/∂ln σ_j (e^(−size × share_j) − 1) is exact where linear in conductivity.
 */
export function profileLogs(
  { value, layers: m }: StretchData,
  factor: Float64Array,
  { profiles, byLayer }: Tried,
): Float64Array {
  const p = value.length;
  const y = forwardSolve(factor, p, value);
  const columns = Array.from({ length: m }, (_, j) =>
    forwardSolve(
      factor,
      p,
      Float64Array.from({ length: p }, (_, a) => byLayer[a * m + j]!),
    ),
  );
  const reach = columns.map((column) => dot(column, y));
  const overlap = Float64Array.from({ length: m * m }, (_, at) =>
    dot(columns[Math.floor(at / m)]!, columns[at % m]!),
  );
  const out = new Float64Array(profiles.length * SIZES.length);
  const change = new Float64Array(m);
  for (const [k, { share, weight }] of profiles.entries()) {
    for (const [s, size] of SIZES.entries()) {
      for (let j = 0; j < m; j++) change[j] = share[j] === 0 ? 0 : Math.expm1(-size * share[j]!);
      let sum = Math.log(weight * itemAt(SIZE_WEIGHTS, s));
      for (let i = 0; i < m; i++) {
        if (change[i] === 0) continue;
        let met = overlap[i * m + i]! * change[i]!;
        for (let j = 0; j < i; j++) met += 2 * overlap[i * m + j]! * change[j]!;
        sum += change[i]! * (reach[i]! - met / 2);
      }
      out[k * SIZES.length + s] = sum;
    }
  }
  return out;
}

/** The response of a profile and size, p entries in noise units. */
export function profileResponse(
  { byLayer, layers: m }: Pick<StretchData, "byLayer" | "layers">,
  share: Float64Array,
  size: number,
): Float64Array {
  return Float64Array.from({ length: byLayer.length / m }, (_, a) =>
    share.reduce((sum, part, j) => sum + byLayer[a * m + j]! * Math.expm1(-size * part), 0),
  );
}

/** Log likelihood of a mean whose whitened column is given, over that of a mean of 0. */
function gain(data: StretchData, factor: Float64Array, white: Float64Array): number {
  const y = forwardSolve(factor, data.value.length, data.value);
  return white.reduce((sum, w, a) => sum + w * (y[a]! - w / 2), 0);
}

export function logSum(logs: ArrayLike<number>): number {
  const all = Array.from(logs);
  const most = all.reduce((high, v) => Math.max(high, v), Number.NEGATIVE_INFINITY);
  return most + Math.log(all.reduce((sum, v) => sum + Math.exp(v - most), 0));
}

/** Laplace's approximation over the heights of the walks. */
function heightEvidence(data: StretchData, factor: Float64Array, passes: number): Offsets {
  const p = data.value.length;
  let value = new Float64Array(passes);
  let [precision, fitted] = [new Float64Array(), new Float64Array(p)];
  for (let round = 0; round < 8; round++) {
    const derivative = (a: number) => data.first[a]! + 2 * value[data.pass[a]!]! * data.second[a]!;
    fitted = heightResponse(data, value);
    const left = data.value.map((v, a) => v - fitted[a]!);
    const columns = Array.from(value, (_, w) =>
      choleskySolve(
        factor,
        p,
        Float64Array.from({ length: p }, (_, a) => (data.pass[a] === w ? derivative(a) : 0)),
      ),
    );
    const right = Float64Array.from(value, (h, w) => dot(columns[w]!, left) - h / HEIGHT_SD_M ** 2);
    precision = new Float64Array(passes * passes);
    for (let w = 0; w < passes; w++) {
      for (let a = 0; a < p; a++)
        precision[w * passes + data.pass[a]!]! += columns[w]![a]! * derivative(a);
      precision[w * passes + w]! += 1 / HEIGHT_SD_M ** 2;
    }
    const step = choleskySolve(choleskyFactor(precision, passes), passes, right);
    value = value.map((h, w) => Math.max(-0.3, Math.min(0.5, h + step[w]!)));
  }
  fitted = heightResponse(data, value);
  const white = forwardSolve(factor, p, fitted);
  const prior = value.reduce((sum, h) => sum + (h / HEIGHT_SD_M) ** 2, 0) / 2;
  const volume =
    -passes * Math.log(HEIGHT_SD_M) -
    choleskyLogDeterminant(choleskyFactor(precision, passes), passes) / 2;
  return { evidence: gain(data, factor, white) - prior + volume, value };
}

const heightResponse = (data: StretchData, value: Float64Array) =>
  data.value.map((_, a) => {
    const h = value[data.pass[a]!]!;
    return h * data.first[a]! + h * h * data.second[a]!;
  });

/** Zeros of the channels are independent and normal: so is the difference they make. */
function zeroEvidence({ value, covariance, ppm, index }: StretchData, channels: number): Offsets {
  const p = value.length;
  const wide = covariance.map((v, at) =>
    at % (p + 1) === 0 ? v + (ZERO_SD_PPM * ppm[at % p]!) ** 2 : v,
  );
  const [narrowFactor, wideFactor] = [choleskyFactor(covariance, p), choleskyFactor(wide, p)];
  const length = (factor: Float64Array) => {
    const white = forwardSolve(factor, p, value);
    return dot(white, white) + choleskyLogDeterminant(factor, p);
  };
  const solved = choleskySolve(wideFactor, p, value);
  const zeros = new Float64Array(channels);
  for (const [a, c] of index.entries()) zeros[c] = ZERO_SD_PPM ** 2 * ppm[a]! * solved[a]!;
  return { evidence: (length(narrowFactor) - length(wideFactor)) / 2, value: zeros };
}
