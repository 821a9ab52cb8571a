import { blockForwardSolve } from "../../../../numerics/algebra/block-solve.js";
import {
  blockLogDeterminant,
  factorBlockTridiagonal,
} from "../../../../numerics/algebra/block-tridiagonal.js";
import { patternSearch } from "../../../../numerics/pattern-search.js";
import {
  correlations,
  type LinePrior,
  linePrior,
  logDeterminant,
  type PriorHyperparameters,
} from "../../../prior/line-prior.js";
import type { LineData } from "../line-data.js";
import { addRow, priorMatrix, whitenRow } from "../line-equations.js";
import { deviationOf, gainOf, huberWeight, type LineState, residualAt } from "../line-state.js";

/**
 * The hyperparameters of a line's prior of maximum evidence (marginal likelihood), the problem
 * linearised at a state: first those with depth, from single columns spread over the line; then the
 * correlation length along the bank, from windows of neighbours. Columns far apart carry the
 * variance of the ground; neighbours alone would take an even stretch for the whole bank. The cost
 * does not grow with the line's length. The hyperprior is log-normal about `centre`.
 * Source: MacKay 1992, Bayesian Interpolation (evidence).
 */
export function findPriorHyperparameters(
  state: LineState,
  centre: PriorHyperparameters,
): PriorHyperparameters {
  const { data, hyper } = state;
  const linear = (windows: readonly Window[]) => windows.map((window) => linearised(state, window));
  const now = hyper.prior.hyperparameters;
  const columns = linear(windowsOf(data, COLUMNS, 1));
  if (columns.length === 0) return now;
  const withDepth = maximumEvidence(columns, data, { now, centre, names: WITH_DEPTH });
  const windows = linear(windowsOf(data, WINDOWS, WINDOW_STATIONS));
  return maximumEvidence(windows, data, { now: withDepth, centre, names: ["along_m"] });
}

const WITH_DEPTH = ["levelSd", "layerSd", "correlation_m"] as const;
/** Standard deviation of the log-normal hyperprior. */
const HYPERPRIOR_SD = 0.5;
/** Bounds: a factor either way about the centre. */
const MOST = { levelSd: 3, layerSd: 3, correlation_m: 3, along_m: 2 };
const COLUMNS = 150;
/**
 * Effective number of independent columns or windows: a bank is built of a handful of materials,
 * and small errors of the readings are correlated along it.
 */
const EFFECTIVE_WINDOWS = 5;
const WINDOWS = 6;
const WINDOW_STATIONS = 24;

interface Search {
  readonly now: PriorHyperparameters;
  readonly centre: PriorHyperparameters;
  readonly names: readonly (keyof typeof MOST)[];
}

function maximumEvidence(
  windows: readonly LinearWindow[],
  data: LineData,
  { now, centre, names }: Search,
): PriorHyperparameters {
  const at = (logs: Float64Array): PriorHyperparameters => ({
    ...now,
    ...Object.fromEntries(names.map((name, k) => [name, centre[name] * Math.exp(logs[k]!)])),
  });
  const found = patternSearch(
    (logs) => {
      if (logs.some((log, k) => Math.abs(log) > Math.log(MOST[names[k]!]))) {
        return Number.POSITIVE_INFINITY;
      }
      const prior = linePrior(data.top_m, at(logs), data.spacing_m);
      const penalty = logs.reduce((sum, log) => sum + (log / HYPERPRIOR_SD) ** 2, 0) / 2;
      const misfit = windows.reduce(
        (sum, window) => sum + negativeLogEvidence(window, prior, data),
        0,
      );
      return penalty + Math.min(1, EFFECTIVE_WINDOWS / windows.length) * misfit;
    },
    names.map((name) => Math.log(now[name] / centre[name])),
    { step: 0.3, enough: 0.04, evaluations: 60 },
  );
  return at(found.at);
}

interface Window {
  readonly from: number;
  readonly to: number;
}

/** Windows of so many stations spread evenly over the line, those with data. */
function windowsOf({ n, known }: LineData, most: number, stations: number): Window[] {
  const length = Math.min(n, stations);
  const count = Math.max(1, Math.min(most, Math.floor(n / length)));
  return Array.from({ length: count }, (_, k) => {
    const from = count === 1 ? 0 : Math.round((k * (n - length)) / (count - 1));
    return { from, to: from + length };
  }).filter(({ from, to }) => known.subarray(from, to).some((value) => value === 1));
}

/** One linearised datum over its deviation: residual + J (x − mean), and J. */
interface LinearDatum {
  readonly station: number;
  readonly value: number;
  readonly row: Float64Array;
  /** The entry of its walk's error. */
  readonly walkError: { readonly index: number; readonly value: number };
}

interface LinearWindow {
  readonly stations: number;
  readonly data: readonly LinearDatum[];
}

function linearised(state: LineState, window: Window): LinearWindow {
  const { data, hyper } = state;
  const { c, m, q } = data;
  const linear: LinearDatum[] = [];
  for (let i = window.from; i < window.to; i++) {
    for (let d = 0; d < c; d++) {
      const scaled = residualAt(state, i, d);
      if (Number.isNaN(scaled)) continue;
      const root = Math.sqrt(huberWeight(scaled)) / deviationOf(state, i, d);
      const gain = gainOf(state, i, d);
      const from = (i * c + d) * m;
      const row = state.jacobian_ppm.slice(from, from + m).map((value) => value * gain * root);
      let value = Math.sqrt(huberWeight(scaled)) * scaled;
      for (let j = 0; j < m; j++) value += row[j]! * (state.model[i * m + j]! - hyper.mean);
      const byWalk = data.walkSd * state.response_ppm[i * c + d]! * root;
      if (byWalk !== 0) value += byWalk * state.u[i * q + m + data.walk[d]!]!;
      linear.push({
        station: i - window.from,
        value,
        row,
        walkError: { index: m + data.walk[d]!, value: byWalk },
      });
    }
  }
  return { stations: window.to - window.from, data: linear };
}

/** −ln of the marginal likelihood of a window's data up to a constant. */
function negativeLogEvidence(window: LinearWindow, prior: LinePrior, data: LineData): number {
  const { m, q } = data;
  const n = window.stations;
  const correlation = correlations(prior, data);
  const matrix = priorMatrix(correlation, n, { layers: m, scale: 1 });
  const right = new Float64Array(n * q);
  const row = new Float64Array(m);
  const lower = prior.layers.factor;
  let squares = 0;
  for (const datum of window.data) {
    whitenRow(row, datum.row, { at: 0, lower, scale: 1 });
    squares += datum.value ** 2;
    const place = { from: datum.station * q, q, weighted: datum.value, walkError: datum.walkError };
    addRow({ diagonal: matrix.diagonal, right }, row, place);
  }
  const factor = factorBlockTridiagonal(matrix);
  blockForwardSolve(factor, right);
  for (const value of right) squares -= value * value;
  return (squares + blockLogDeterminant(factor) - logDeterminant(correlation, n)) / 2;
}
