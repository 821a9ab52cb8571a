import { setImmediate as turn } from "node:timers/promises";
import { median } from "../numerics/robust.js";
import type { Campaign } from "../survey/survey.js";
import type { DepthOptions } from "./depth-options.js";
import { findNoise } from "./find-noise.js";
import { findStrengths } from "./find-strengths.js";
import type { Stations } from "./gather-stations.js";
import { type LineData, lineData } from "./line-data.js";
import { type LineEquations, lineEquations, solveLine } from "./line-equations.js";
import { whitenedCovariances } from "./line-posterior.js";
import { fromModel, linePrior, type Strengths } from "./line-prior.js";
import { type LineBelief, type LineState, lineState } from "./line-state.js";
import { startOfLine } from "./start-line.js";

/** A line settled: the most likely model, and the equations that hold its spread. */
export interface SettledLine {
  readonly data: LineData;
  readonly belief: LineBelief;
  readonly state: LineState;
  readonly equations: LineEquations;
  /** n × q × q posterior covariances of the stations' unknowns. */
  readonly covariance: Float64Array;
}

/** Rounds of the strengths and of the noise; each follows Gauss-Newton steps under the last. */
const ROUNDS = 2;
const STEPS = 5;
const LAST_STEPS = 25;
/** A step that lowers the cost by less a station moves it by two hundredths of a deviation. */
const ENOUGH = 3e-4;

/**
 * The most likely layered earths along a line, all stations together: damped Gauss-Newton on
 * Σ loss((value − response)/sd) + uᵀQu + |channel errors|², with a Huber loss, the prior's
 * strengths by `findStrengths` and each channel's noise by `findNoise`. Stations without readings
 * are bridged by the prior alone.
 */
export async function invertLine(
  campaign: Campaign,
  stations: Stations,
  used: DepthOptions,
): Promise<SettledLine> {
  const data = lineData(campaign, stations, used);
  const { levelSd, layerSd, correlation_m, along_m } = used;
  const usual: Strengths = { levelSd, layerSd, correlation_m, along_m };
  const start = startOfLine(data);
  let belief: LineBelief = {
    prior: linePrior(data.top_m, usual, data.spacing_m),
    mean: used.priorMean_ohm_m === null ? start.mean : -Math.log(used.priorMean_ohm_m),
    noiseScale: new Float64Array(data.c).fill(1),
  };
  const rounds = used.strengths === "found" ? ROUNDS : 0;
  const pace = new Pace(data.n, used.progress, rounds);
  let u = inUnknowns(data, belief, { model: start.model, u: new Float64Array(data.n * data.q) });
  let channel: Float64Array = new Float64Array(2 * data.c);
  for (let round = 0; round < rounds; round++) {
    const state = await settle(data, belief, { u, channel, steps: STEPS, pace });
    const equations = lineEquations(data, belief, state);
    const covariance = whitenedCovariances(equations, data.q);
    const noiseScale = findNoise(data, belief, { state, covariance });
    const strengths = findStrengths(data, { ...belief, noiseScale }, { state, usual });
    const prior = linePrior(data.top_m, strengths, data.spacing_m);
    belief = { ...belief, prior, noiseScale };
    u = inUnknowns(data, belief, state);
    channel = state.channel;
  }
  const state = await settle(data, belief, { u, channel, steps: LAST_STEPS, pace });
  const equations = lineEquations(data, belief, state);
  const covariance = whitenedCovariances(equations, data.q);
  pace.done();
  return { data, belief, state, equations, covariance };
}

/** The unknowns of a model under a prior; the channels' own errors stay. */
function inUnknowns(
  { q }: LineData,
  { prior, mean }: LineBelief,
  { model, u }: Pick<LineState, "model" | "u">,
): Float64Array {
  return fromModel(prior.layers, model, { mean, u, q });
}

interface Settling {
  readonly u: Float64Array;
  readonly channel: Float64Array;
  readonly steps: number;
  readonly pace: Pace;
}

async function settle(
  data: LineData,
  belief: LineBelief,
  { u, channel, steps, pace }: Settling,
): Promise<LineState> {
  let state = await lineState(data, belief, { u, channel }, pace.sweep());
  for (let step = 0; step < steps; step++) {
    const equations = lineEquations(data, belief, state);
    const found = solveLine(equations, equations.right, equations.borderRight);
    const next = await damped(data, belief, { state, found, pace });
    if (next === null) break;
    const gained = state.cost - next.cost;
    state = next;
    if (gained < ENOUGH * data.n) break;
  }
  return state;
}

interface Damping {
  readonly state: LineState;
  readonly found: { readonly u: Float64Array; readonly channel: Float64Array };
  readonly pace: Pace;
}

/** The longest of a few fractions of the step that lowers the cost; null where none does. */
async function damped(
  data: LineData,
  belief: LineBelief,
  { state, found, pace }: Damping,
): Promise<LineState | null> {
  const most = found.u.reduce((largest, step) => Math.max(largest, Math.abs(step)), 1e-12);
  const longest = Math.min(1, LONGEST / most);
  for (let length = longest; length > 0.01 * longest; length /= 2) {
    const u = state.u.map((value, k) => value + length * found.u[k]!);
    const channel = state.channel.map((value, k) => value + length * found.channel[k]!);
    const next = await lineState(data, belief, { u, channel }, pace.sweep());
    if (next.cost < state.cost) return next;
  }
  return null;
}

/** No unknown moves by more than so many prior deviations in a step. */
const LONGEST = 3;

const CHUNK = 200;

/** Progress in stations over a guess of the sweeps to come, and turns for the event loop. */
class Pace {
  private sweeps = 0;
  private readonly expected: number;

  constructor(
    private readonly n: number,
    private readonly progress: DepthOptions["progress"],
    rounds: number,
  ) {
    this.expected = rounds * (STEPS + 1) + LAST_STEPS / 2;
  }

  sweep(): (station: number) => Promise<void> | null {
    const before = Math.min(this.sweeps, this.expected - 1);
    this.sweeps += 1;
    return (station) => {
      if (station % CHUNK !== 0) return null;
      const share = (before + station / this.n) / this.expected;
      this.progress?.(Math.floor(share * this.n), this.n);
      return turn();
    };
  }

  done(): void {
    this.progress?.(this.n, this.n);
  }
}

/** Median over the stations in use of trace(I − C): levels that the data decide. */
export function independentLevels({ data, covariance }: SettledLine, inUse: readonly boolean[]) {
  const { m, q } = data;
  const levels: number[] = [];
  for (const [i, use] of inUse.entries()) {
    if (!use) continue;
    let sum = 0;
    for (let j = 0; j < m; j++) sum += 1 - covariance[(i * q + j) * q + j]!;
    levels.push(sum);
  }
  return median(levels);
}
