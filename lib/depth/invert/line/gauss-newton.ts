import type { LineData } from "./line-data.js";
import { lineEquations, solveLine } from "./line-equations.js";
import { type Hyperparameters, type LineState, lineState } from "./line-state.js";
import type { Progress } from "./progress.js";

/** A cost that falls by less a station: a move of two hundredths of a deviation. */
const CONVERGED = 3e-4;

export interface GaussNewtonStart {
  readonly u: Float64Array;
  readonly channel: Float64Array;
  readonly steps: number;
  readonly progress: Progress;
}

/** The MAP estimate by damped Gauss-Newton, stopped at convergence or after so many steps. */
export async function gaussNewton(
  data: LineData,
  hyper: Hyperparameters,
  { u, channel, steps, progress }: GaussNewtonStart,
): Promise<LineState> {
  let state = await lineState(data, hyper, { u, channel }, progress.sweep(data.n));
  for (let step = 0; step < steps; step++) {
    const equations = lineEquations(state);
    const found = solveLine(equations, equations.right, equations.borderRight);
    const next = await lineSearch(state, found, progress);
    if (next === null) break;
    const gained = state.cost - next.cost;
    state = next;
    if (gained < CONVERGED * data.n) break;
  }
  return state;
}

/** The longest of a few fractions of the step that lowers the cost, or null. */
async function lineSearch(
  state: LineState,
  found: Pick<LineState, "u" | "channel">,
  progress: Progress,
): Promise<LineState | null> {
  const { data, hyper } = state;
  const most = found.u.reduce((largest, step) => Math.max(largest, Math.abs(step)), 1e-12);
  const longest = Math.min(1, LONGEST / most);
  for (let length = longest; length > 0.01 * longest; length /= 2) {
    const u = state.u.map((value, k) => value + length * found.u[k]!);
    const channel = state.channel.map((value, k) => value + length * found.channel[k]!);
    const next = await lineState(data, hyper, { u, channel }, progress.sweep(data.n));
    if (next.cost < state.cost) return next;
  }
  return null;
}

/** No unknown moves by more than so many prior deviations in a step. */
const LONGEST = 3;
