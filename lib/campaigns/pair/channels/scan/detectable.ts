import { sliceWeights } from "../../../../depth/slices/slice-weights.js";
import type { DepthRange } from "../../../ranges.js";
import type { DetectableChange } from "../../changes.js";
import type { LineState } from "../explain/line-state.js";
import type { ModelInput } from "../line/difference-model.js";
import { run } from "./ground-scores.js";
import { projections } from "./projections.js";
import { factored, squaredLength, sums } from "./stretch-sums.js";

export interface DetectableAt {
  readonly slices: readonly DepthRange[];
  /** Error rate of the test. */
  readonly q: number;
  /** m × m prior covariance of a change. */
  readonly prior: Float64Array;
}

/** Length of the change that is asked for, m, or half of a shorter line. */
const LENGTH_M = 80;
/** A change is stated where it is found at this share of the places. */
const PLACES = 0.9;
/** Greatest change that is asked for, ln resistivity. */
const MOST = Math.log(10);

/**
 * By slice, the least fall and rise of resistivity over 80 m that the test would have found with a
 * probability of 90 %: what the change adds to the score of its stations, over the error that the score
 * has where nothing changed, has to reach `strengthNeeded`. Responses are taken as linear in conductivity.
 */
export function detectableChanges(
  input: ModelInput,
  { model, scores, scan }: LineState,
  { slices, q, prior }: DetectableAt,
): readonly DetectableChange[] {
  const { spacing_m, chainage_m } = input.pair;
  const n = chainage_m.length;
  const length = Math.min(Math.round(LENGTH_M / spacing_m), Math.floor(n / 2));
  if (length < 2) return [];
  const needed = scan.strengthNeeded(q);
  const byLayer = keptScores(input, model, prior);
  const places = placesOf(n, length);
  const layers = new Float64Array(scores.k * input.response.top_m.length);
  const score = new Float64Array(scores.k);
  return sliceWeights(input.response.top_m, slices).map((weights, s) => {
    const { top_m, base_m } = slices[s]!;
    const share = weights.map((w) => (w > 0 ? 1 : 0));
    const least = (sign: 1 | -1) => {
      const sizes = places.map((first) => {
        const last = first + length - 1;
        sums(byLayer, { k: layers.length, first, last }, layers);
        const error = scan.errorOf(first, last);
        const isTold = factored(error, scores.k);
        const strength = (size: number) => {
          fillScores(score, layers, { share, size: sign * size });
          return isTold ? Math.sqrt(squaredLength(error, score)) : 0;
        };
        return leastSize(strength, needed);
      });
      const size = sizes.sort((a, b) => a - b)[Math.ceil(PLACES * sizes.length) - 1];
      return size !== undefined && size <= MOST
        ? Number(Math.exp(sign * size).toPrecision(3))
        : null;
    };
    return { top_m, base_m, length_m: length * spacing_m, fell: least(-1), rose: least(1) };
  });
}

/** Four starts to a length, so that every part of the line is asked for. */
function placesOf(n: number, length: number): readonly number[] {
  const step = Math.max(1, Math.floor(length / 4));
  return Array.from({ length: Math.floor((n - length) / step) + 1 }, (_, k) => k * step);
}

const kept = new WeakMap<LineState["model"], Float64Array>();

/** Of a fit that stays where only the error rate is another. */
function keptScores(
  input: ModelInput,
  model: LineState["model"],
  prior: Float64Array,
): Float64Array {
  const scores = kept.get(model) ?? layerScores(input, model, prior);
  kept.set(model, scores);
  return scores;
}

/** (n + 1) × k m running sums: the scores that one ln conductivity of each layer makes. */
function layerScores(
  input: ModelInput,
  model: LineState["model"],
  prior: Float64Array,
): Float64Array {
  const { response, noise } = input;
  const [n, q, m] = [model.n, model.q, response.top_m.length];
  const { k, at } = projections(input, model, prior);
  const out = new Float64Array((n + 1) * k * m);
  const [row, scores] = [new Float64Array(q), new Float64Array(k * m)];
  for (let i = 0; i < n; i++) {
    const { scoreOf } = at(i);
    for (let j = 0; j < m; j++) {
      for (let c = 0; c < q; c++) {
        row[c] = response.byLayer[(i * q + c) * m + j]! / noise[i * q + c]!;
      }
      scores.set(scoreOf(row), j * k);
    }
    run(out, i, scores);
  }
  return out;
}

/** Fills k scores of a change of ln resistivity by `size` where a layer takes part whole. */
function fillScores(
  out: Float64Array,
  layers: Float64Array,
  { share, size }: { readonly share: Float64Array; readonly size: number },
): void {
  out.fill(0);
  for (let j = 0; j < share.length; j++) {
    const part = share[j]!;
    if (part === 0) continue;
    const change = part * Math.expm1(-size);
    for (let a = 0; a < out.length; a++) out[a]! += change * layers[j * out.length + a]!;
  }
}

/** The least size of enough strength, by halving; infinite where even the greatest has too little. */
function leastSize(strength: (size: number) => number, needed: number): number {
  if (!(strength(MOST) >= needed)) return Number.POSITIVE_INFINITY;
  let [low, high] = [0, MOST];
  for (let round = 0; round < 20; round++) {
    const middle = (low + high) / 2;
    if (strength(middle) >= needed) high = middle;
    else low = middle;
  }
  return high;
}
