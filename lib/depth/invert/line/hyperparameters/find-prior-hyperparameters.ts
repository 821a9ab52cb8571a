import { blockForwardSolve } from "../../../../numerics/block-solve.js";
import {
  blockLogDeterminant,
  factorBlockTridiagonal,
} from "../../../../numerics/block-tridiagonal.js";
import { patternSearch } from "../../../../numerics/pattern-search.js";
import {
  correlations,
  type LinePrior,
  linePrior,
  logDeterminant,
  type Strengths,
} from "../../../prior/line-prior.js";
import type { LineData } from "../line-data.js";
import { addRow, gainOf, priorMatrix, whitenRow } from "../line-equations.js";
import { huberWeight, type LineBelief, type LineState, residualAt } from "../line-state.js";

/**
 * The strengths of a line's prior under which its readings are most likely, the problem linearised
 * at the present state: first those down the layers, from single columns spread over the line, each
 * by itself; then the distance along the bank, from windows of neighbours. Columns apart show how
 * much ground differs; neighbours alone would take the even stretches of a bank for all of it. The
 * cost does not grow with the line's length. What is believed of the strengths beforehand enters as
 * a log-normal spread about `usual`. Source: MacKay 1992, Bayesian Interpolation (evidence).
 */
export function findStrengths(
  data: LineData,
  belief: LineBelief,
  { state, usual }: { readonly state: LineState; readonly usual: Strengths },
): Strengths {
  const linear = (windows: readonly Window[]) =>
    windows.map((window) => linearised(data, belief, { state, window }));
  const now = belief.prior.strengths;
  const columns = linear(windowsOf(data, COLUMNS, 1));
  if (columns.length === 0) return now;
  const down = mostLikely(columns, data, { now, usual, names: DOWN });
  const windows = linear(windowsOf(data, WINDOWS, WINDOW_STATIONS));
  return mostLikely(windows, data, { now: down, usual, names: ["along_m"] });
}

const DOWN = ["levelSd", "layerSd", "correlation_m"] as const;
/** Log-normal spread of each strength before the data. */
const SPREAD = 0.5;
/** Nor does a strength leave this factor, either way, about what is usual. */
const MOST = { levelSd: 3, layerSd: 3, correlation_m: 3, along_m: 2 };
const COLUMNS = 150;
/**
 * Columns of one bank, or windows, tell as much as so many that have nothing to do with each other:
 * a bank is of a handful of makes, and small errors of the readings are alike along it.
 */
const WORTH = 5;
const WINDOWS = 6;
const WINDOW_STATIONS = 24;

interface Search {
  readonly now: Strengths;
  readonly usual: Strengths;
  readonly names: readonly (keyof typeof MOST)[];
}

function mostLikely(
  windows: readonly LinearWindow[],
  data: LineData,
  { now, usual, names }: Search,
): Strengths {
  const at = (logs: Float64Array): Strengths => ({
    ...pick(now),
    ...Object.fromEntries(names.map((name, k) => [name, usual[name] * Math.exp(logs[k]!)])),
  });
  const found = patternSearch(
    (logs) => {
      if (logs.some((log, k) => Math.abs(log) > Math.log(MOST[names[k]!]))) {
        return Number.POSITIVE_INFINITY;
      }
      const prior = linePrior(data.top_m, at(logs), data.spacing_m);
      const beliefs = logs.reduce((sum, log) => sum + (log / SPREAD) ** 2, 0) / 2;
      const misfit = windows.reduce((sum, window) => sum + misfitOf(window, prior, data), 0);
      return beliefs + Math.min(1, WORTH / windows.length) * misfit;
    },
    names.map((name) => Math.log(now[name] / usual[name])),
    { step: 0.3, enough: 0.04, evaluations: 60 },
  );
  return at(found.at);
}

function pick({ levelSd, layerSd, correlation_m, along_m }: Strengths): Strengths {
  return { levelSd, layerSd, correlation_m, along_m };
}

interface Window {
  readonly from: number;
  readonly to: number;
}

/** So many even pieces of the line of so many stations, fewer where it is short; known ones. */
function windowsOf({ n, known }: LineData, most: number, stations: number): Window[] {
  const length = Math.min(n, stations);
  const count = Math.max(1, Math.min(most, Math.floor(n / length)));
  return Array.from({ length: count }, (_, k) => {
    const from = count === 1 ? 0 : Math.round((k * (n - length)) / (count - 1));
    return { from, to: from + length };
  }).filter(({ from, to }) => known.subarray(from, to).some((value) => value === 1));
}

/** One linear datum: value − J (x − mean), and J, both over its deviation. */
interface LinearDatum {
  readonly station: number;
  readonly value: number;
  readonly row: Float64Array;
  /** The entry of its walk's error. */
  readonly own: { readonly index: number; readonly value: number };
}

interface LinearWindow {
  readonly stations: number;
  readonly data: readonly LinearDatum[];
}

function linearised(
  data: LineData,
  belief: LineBelief,
  { state, window }: { readonly state: LineState; readonly window: Window },
): LinearWindow {
  const { c, m, q } = data;
  const residual = residualAt(data, belief, state);
  const linear: LinearDatum[] = [];
  for (let i = window.from; i < window.to; i++) {
    for (let d = 0; d < c; d++) {
      const left = residual(i, d);
      if (Number.isNaN(left)) continue;
      const root = Math.sqrt(huberWeight(left)) / (data.sd_ppm[i * c + d]! * belief.noiseScale[d]!);
      const gain = gainOf(data, state, { i, d });
      const from = (i * c + d) * m;
      const row = state.jacobian_ppm.slice(from, from + m).map((value) => value * gain * root);
      let value = Math.sqrt(huberWeight(left)) * left;
      for (let j = 0; j < m; j++) value += row[j]! * (state.model[i * m + j]! - belief.mean);
      const own = data.walkSd * state.response_ppm[i * c + d]! * root;
      if (own !== 0) value += own * state.u[i * q + m + data.walk[d]!]!;
      linear.push({
        station: i - window.from,
        value,
        row,
        own: { index: m + data.walk[d]!, value: own },
      });
    }
  }
  return { stations: window.to - window.from, data: linear };
}

/** −ln of the marginal likelihood of a window's data but for a constant. */
function misfitOf(window: LinearWindow, prior: LinePrior, data: LineData): number {
  const { m, q } = data;
  const n = window.stations;
  const alike = correlations(prior, data);
  const matrix = priorMatrix(alike, n, { layers: m, scale: 1 });
  const right = new Float64Array(n * q);
  const row = new Float64Array(m);
  const lower = prior.layers.factor;
  let squares = 0;
  for (const datum of window.data) {
    whitenRow(row, datum.row, { at: 0, lower, scale: 1 });
    squares += datum.value ** 2;
    const place = { from: datum.station * q, q, pull: datum.value, own: datum.own };
    addRow({ diagonal: matrix.diagonal, right }, row, place);
  }
  const factor = factorBlockTridiagonal(matrix);
  blockForwardSolve(factor, right);
  for (const value of right) squares -= value * value;
  return (squares + blockLogDeterminant(factor) - logDeterminant(alike, n)) / 2;
}
