import { coarsened } from "./coarse-line.js";
import { type DifferenceModel, differenceModel, type ModelInput } from "./difference-model.js";
import type { LineInput } from "./line-input.js";
import { channelCovariance, PresentFactors } from "./line-noise.js";
import { addOffset, type Offset } from "./offsets.js";
import { fitStart, type LineResiduals, robustFit, smoothSpread } from "./robust-fit.js";

/** Places along the line at which a step is tried first. */
const PLACES = 24;
const MOST_STEPS = 3;
/** Rounds of a fit that is only compared with others. */
const ROUNDS = 3;
/** The cost has to fall by this much, and by this share of the number of blocks. */
const LEAST_GAIN = 6;
const LEAST_SHARE = 0.05;

/**
 * Places from which on, to the end of the line, the coils were carried at another height, as where
 * a second operator took over: half of the line may be, so there need not be a majority that a
 * robust fit could hold on to. A step is kept where the robust misfit of the whole line falls.
 */
export function heightSteps(input: ModelInput, declared: readonly number[]): readonly Offset[] {
  const known = found.get(input) ?? new Map<string, readonly Offset[]>();
  found.set(input, known);
  const steps = known.get(declared.join(" ")) ?? searchedSteps(input, declared);
  known.set(declared.join(" "), steps);
  return steps;
}

/** By what is compared and the declared places: no other option enters the search. */
const found = new WeakMap<ModelInput, Map<string, readonly Offset[]>>();

function searchedSteps(input: ModelInput, declared: readonly number[]): readonly Offset[] {
  const { coarse, every } = input;
  const n = input.pair.chainage_m.length;
  const blocks = coarse.pair.chainage_m.length;
  if (input.level === "none" || blocks < LEAST_BLOCKS) return [];
  const stepFrom = (first: number): Offset => {
    const value = new Float64Array(input.pair.passes);
    return { first, last: n - 1, kind: "height", value };
  };
  const start = fitStart(input.coarseLine, coarse.quality);
  const fitted = (offsets: readonly Offset[]) => {
    const tried = offsets.map((one) => coarsened(one, every));
    return robustFit(start, { offsets: tried, rounds: ROUNDS }).residuals;
  };
  let steps = declared.map(stepFrom);
  const without = fitted(steps);
  const reference = neighbourNoise(without);
  let best = cost(coarse, without, reference);
  while (steps.length < MOST_STEPS + declared.length) {
    const apart = (block: number) =>
      steps.every((one) => Math.abs(one.first / every - block) >= LEAST_APART);
    const least = Math.max(LEAST_GAIN, LEAST_SHARE * blocks);
    const next = bestStep({ blocks, enough: best - least }, (block) =>
      apart(block)
        ? cost(coarse, fitted([...steps, stepFrom(block * every)]), reference)
        : Number.POSITIVE_INFINITY,
    );
    if (!(next.cost < best - least)) break;
    steps = [...steps, stepFrom(next.from * every)];
    best = next.cost;
  }
  return placedSteps(input, steps, declared.length);
}

/** Blocks between two steps. */
const LEAST_APART = 4;
/** Fewer blocks than this show no step. */
const LEAST_BLOCKS = 8;

/** The steps but those that were declared at their best station. */
function placedSteps(
  input: ModelInput,
  steps: readonly Offset[],
  declared: number,
): readonly Offset[] {
  let placed = steps;
  for (let round = 0; round < 2 && placed.length > declared; round++) {
    const still = new Uint8Array(input.pair.chainage_m.length);
    const model = differenceModel(input, still, placed);
    const noise = neighbourNoise(model);
    placed = model.offsets.map((one, k) =>
      k < declared ? one : { ...one, first: betterPlace(input, { model, noise }, one) },
    );
  }
  return placed;
}

interface Fitted {
  readonly model: DifferenceModel;
  readonly noise: PresentFactors;
}

/** The station from which on a step fits best: before it the residual is taken without the step. */
function betterPlace(input: ModelInput, { model, noise }: Fitted, step: Offset): number {
  const { n, q, residual } = model;
  const effect = new Float64Array(n * q);
  addOffset(input, { ...step, first: 0 }, effect);
  const misfit = (i: number, times: number) => {
    const row = Float64Array.from(
      { length: q },
      (_, c) => residual[i * q + c]! + times * effect[i * q + c]!,
    );
    const { index, squaredLength } = noise.at(row);
    return index.length === 0 ? 0 : Math.log1p(squaredLength(row) / (4 * index.length));
  };
  let best = { first: step.first, gain: 0 };
  for (const way of [-1, 1]) {
    let gain = 0;
    for (let off = 1; off <= 3 * input.every; off++) {
      const i = way < 0 ? step.first - off : step.first + off - 1;
      if (i < 1 || i >= n - 1) break;
      gain += misfit(i, 0) - misfit(i, way);
      if (gain > best.gain) best = { first: step.first + way * off, gain };
    }
  }
  return best.first;
}

interface Search {
  readonly blocks: number;
  /** Cost under which a step is kept. */
  readonly enough: number;
}

/**
 * Tried at even places, then in halved strides about the best of them, unless it is so far from
 * enough that no place in between is worth it: a block on the wrong side costs about 1.
 */
function bestStep({ blocks, enough }: Search, costFrom: (from: number) => number) {
  const every = Math.max(1, Math.floor(blocks / PLACES));
  let best = { from: 0, cost: Number.POSITIVE_INFINITY };
  const attempt = (from: number) => {
    if (from < 2 || from > blocks - 2) return;
    const value = costFrom(from);
    if (value < best.cost) best = { from, cost: value };
  };
  for (let from = every; from < blocks; from += every) attempt(from);
  if (best.cost > enough + every) return best;
  for (let stride = every >> 1; stride > 0; stride >>= 1) {
    const { from } = best;
    attempt(from - stride);
    attempt(from + stride);
  }
  return best;
}

/** The noise of neighbours, which a step does not enter. */
function neighbourNoise({ residual, n, q }: LineResiduals): PresentFactors {
  const second = residual.map((v, at) => {
    const [before, after] = [residual[at - q] ?? Number.NaN, residual[at + q] ?? Number.NaN];
    return (before - 2 * v + after) / Math.sqrt(6);
  });
  const weight = new Float64Array(n).fill(1);
  return new PresentFactors(channelCovariance({ value: second, q, weight }), q);
}

/** Σ ln(1 + v / 4) over blocks, v the smoothed misfit over the noise of neighbours. */
function cost({ pair }: LineInput, residuals: LineResiduals, reference: PresentFactors): number {
  const spread = smoothSpread(residuals, reference, pair.spacing_m);
  return spread.reduce((sum, v) => sum + (Math.log1p(v / 4) || 0), 0);
}
