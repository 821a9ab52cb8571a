import type { LineData } from "./line-data.js";
import { lineEquations, solveLine } from "./line-equations.js";
import { type LineBelief, type LineState, lineState } from "./line-state.js";
import type { Pace } from "./progress.js";

/** A step that lowers the cost by less a station moves it by two hundredths of a deviation. */
const ENOUGH = 3e-4;

export interface Settling {
  readonly u: Float64Array;
  readonly channel: Float64Array;
  readonly steps: number;
  readonly pace: Pace;
}

/** Damped Gauss-Newton from given unknowns until a step gains next to nothing, or so many steps. */
export async function settleLine(
  data: LineData,
  belief: LineBelief,
  { u, channel, steps, pace }: Settling,
): Promise<LineState> {
  let state = await lineState(data, belief, { u, channel }, pace.sweep(data.n));
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
    const next = await lineState(data, belief, { u, channel }, pace.sweep(data.n));
    if (next.cost < state.cost) return next;
  }
  return null;
}

/** No unknown moves by more than so many prior deviations in a step. */
const LONGEST = 3;
