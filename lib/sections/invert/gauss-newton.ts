import { seededRandom } from "../../numerics/random.js";
import { electrodePotentialsOf, type Turn } from "../model/section-model.js";
import {
  type Linearised,
  linearised,
  misfitOf,
  type Residuals,
  withColumns,
} from "./linearised.js";
import { firstDraw, looserPrior, type SectionDraw, type SectionPrior, sweep } from "./sampler.js";
import { predictedOf } from "./section-data.js";
import type { SectionProblem } from "./section-problem.js";

export interface GaussNewtonSettings {
  readonly seed: number;
  readonly mostIterations: number;
  readonly dataNorm: "normal" | "robust";
  readonly noise: "found" | "stated";
  readonly turn: Turn;
}

/** Where Gauss and Newton's steps ended, and the readings' misfit about it. */
export interface Inverted {
  readonly logResistivity: Float64Array;
  /** Of readings, then of ties. */
  readonly residuals: Residuals;
  readonly form: Linearised;
  /** State of the sampler that the next sweep goes on from. */
  readonly draw: SectionDraw;
  /** Root mean square of weighted residuals, before each step and at the end. */
  readonly history: readonly number[];
}

/** Sweeps of the sampler in a step; over the last of them the mean section is taken. */
const SWEEPS = 8;
const AVERAGED = 4;
/** The misfit's change, as a share, at which the steps end. */
const CONVERGED = 0.02;
/** Steps after which a misfit as the linear form told it ends them: strengths settle with steps. */
const LINEAR_AFTER = 3;
/** Until the misfit has settled, the noise is held to this share of it. */
const DAMPING = 0.2;
const GREAT = 1.5;
const SETTLED = 0.1;

/**
 * Steps of Gauss and Newton on ln ρ. In each the readings are linearised, strengths of the prior
 * and noise are sampled for it (Gibbs), and the next section is the posterior mean.
 */
export async function gaussNewton(
  problem: SectionProblem,
  settings: GaussNewtonSettings,
): Promise<Inverted> {
  const { prior } = problem;
  let logResistivity = problem.start;
  let draw = firstDraw(prior);
  const history: number[] = [];
  let expected = Number.NaN;
  for (;;) {
    const residuals = await residualsAt(problem, logResistivity, { ...settings, draw });
    history.push(rootMeanSquare(problem, residuals));
    const form = linearised(logResistivity, residuals, looserPrior(prior, draw));
    const isLinear = Math.abs(form.misfit - expected) < 2 * CONVERGED * form.misfit;
    if (isDone(history, { ...settings, isLinear })) {
      return { logResistivity, residuals, form, draw, history };
    }
    const held = heldNoise(history);
    ({ logResistivity, draw } = meanSection(form, prior, { ...settings, draw, heldNoise: held }));
    expected = held === null ? misfitOf(form, logResistivity) : Number.NaN;
  }
}

/** Variance of the noise at which it is held; null once the misfit has settled. */
function heldNoise(history: readonly number[]): number | null {
  const [before = Infinity, now = Infinity] = history.slice(-2);
  const rms = history.length < 2 ? before : now;
  const isSettled = history.length > 1 && before - rms < SETTLED * rms;
  return rms > GREAT && !isSettled ? Math.max(1, (DAMPING * rms) ** 2) : null;
}

/** `isLinear`: the last step left the misfit that the linear form had said it would. */
function isDone(
  history: readonly number[],
  { mostIterations, isLinear }: GaussNewtonSettings & { readonly isLinear: boolean },
): boolean {
  const [before = Infinity, now = Infinity] = history.slice(-2);
  if (history.length > mostIterations) return true;
  const isStill = Math.abs(before - now) < CONVERGED * now;
  return (history.length > 2 && isStill) || (history.length > LINEAR_AFTER && isLinear);
}

/** Standard deviations from which the robust norm takes errors by their size, not its square. */
const ROBUST = 2;

async function residualsAt(
  { model, data, ties }: SectionProblem,
  logResistivity: Float64Array,
  { turn, dataNorm, draw }: GaussNewtonSettings & { readonly draw: SectionDraw },
): Promise<Residuals> {
  const potentials = await electrodePotentialsOf(model, logResistivity.map(Math.exp), {
    withSensitivities: true,
    turn,
  });
  const predicted = predictedOf(data, potentials);
  const n = data.sd.length;
  const all = n + ties.length;
  const residual = new Float64Array(all);
  const weight = new Float64Array(all);
  const answers = predicted.jacobian ?? new Float64Array(n * logResistivity.length);
  const jacobian = withColumns(answers, { from: n, to: all });
  for (let i = 0; i < n; i++) {
    residual[i] = data.logApparent[i]! - predicted.logApparent[i]!;
    const away = Math.abs(residual[i]!) / (data.sd[i]! * Math.sqrt(draw.noise));
    weight[i] = (dataNorm === "robust" ? Math.min(1, ROBUST / away) : 1) / data.sd[i]! ** 2;
  }
  ties.forEach(({ cells, share, value, sd }, t) => {
    const mean = cells.reduce((sum, cell, k) => sum + share[k]! * logResistivity[cell]!, 0);
    residual[n + t] = value - mean;
    weight[n + t] = 1 / sd ** 2;
    cells.forEach((cell, k) => {
      jacobian[cell * all + n + t] = share[k]!;
    });
  });
  return { residual, weight, jacobian };
}

function rootMeanSquare({ data }: SectionProblem, { residual, weight }: Residuals): number {
  const sum = data.sd.reduce((total, _, i) => total + weight[i]! * residual[i]! ** 2, 0);
  return Math.sqrt(sum / data.sd.length);
}

function meanSection(
  form: Linearised,
  prior: SectionPrior,
  settings: GaussNewtonSettings & {
    readonly draw: SectionDraw;
    readonly heldNoise: number | null;
  },
): { readonly logResistivity: Float64Array; readonly draw: SectionDraw } {
  const { seed, noise } = settings;
  const heldNoise = settings.heldNoise ?? (noise === "stated" ? 1 : null);
  // The same numbers in each step: what changes from one to the next is the section alone.
  const random = seededRandom(seed);
  const logResistivity = new Float64Array(form.at.length);
  let draw: SectionDraw = { ...settings.draw, noise: heldNoise ?? settings.draw.noise };
  for (let s = 0; s < SWEEPS; s++) {
    draw = sweep(form, prior, { from: draw, random, heldNoise });
    if (s < SWEEPS - AVERAGED) continue;
    draw.mean.forEach((value, c) => {
      logResistivity[c] = logResistivity[c]! + value / AVERAGED;
    });
  }
  return { logResistivity, draw };
}
