interface ShiftPrior {
  /** Shifts that are considered, m, evenly spaced. */
  readonly shifts_m: Float64Array;
  /** Standard deviation of the shift anywhere, m. */
  readonly sd_m: number;
  /** Correlation of the shift from a station to the next. */
  readonly correlation: number;
}

export interface ShiftPosterior {
  /** n means, m. */
  readonly mean_m: Float64Array;
  /** n standard deviations, m. */
  readonly sd_m: Float64Array;
}

/**
 * Mean and standard deviation of a shift that wanders along the line, given what every shift costs
 * at every station: exact on the grid, forward and backward over a Markov chain with Gaussian steps
 * (Rabiner 1989, Proceedings of the IEEE 77, 257–286).
 *
 * @param cost - n × shifts, row by station: minus log likelihood.
 */
export function shiftPosterior(cost: Float64Array, prior: ShiftPrior): ShiftPosterior {
  const m = prior.shifts_m.length;
  const n = cost.length / m;
  const step = stepMatrix(prior);
  const place = stationary(prior);
  const likely = likelihoods(cost, m);
  const forward = passAlong(likely, { step, place, from: 0, to: n });
  const backward = passAlong(likely, { step, place, from: n - 1, to: -1 });
  const mean_m = new Float64Array(n);
  const sd_m = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let sum = 0;
    let first = 0;
    let second = 0;
    for (let s = 0; s < m; s++) {
      // Both passes hold the station's own likelihood and the prior of the place: one is taken out.
      const own = likely[i * m + s]! * place[s]!;
      const weight = (forward[i * m + s]! * backward[i * m + s]!) / own;
      sum += weight;
      first += weight * prior.shifts_m[s]!;
      second += weight * prior.shifts_m[s]! ** 2;
    }
    mean_m[i] = first / sum;
    sd_m[i] = Math.sqrt(Math.max(0, second / sum - mean_m[i]! ** 2));
  }
  return { mean_m, sd_m };
}

/** Costs are taken from the station's least one, and capped, so that no likelihood is zero. */
function likelihoods(cost: Float64Array, m: number): Float64Array {
  const out = new Float64Array(cost.length);
  for (let from = 0; from < cost.length; from += m) {
    const least = cost.subarray(from, from + m).reduce((low, value) => Math.min(low, value));
    for (let s = from; s < from + m; s++) out[s] = Math.exp(-Math.min(50, cost[s]! - least));
  }
  return out;
}

const stationary = (prior: ShiftPrior) =>
  prior.shifts_m.map((shift) => Math.exp(-((shift / prior.sd_m) ** 2) / 2));

/** Row: from a shift, column: to a shift; each row adds up to one. */
function stepMatrix({ shifts_m, sd_m, correlation }: ShiftPrior): Float64Array {
  const m = shifts_m.length;
  const sd = sd_m * Math.sqrt(1 - correlation * correlation);
  const matrix = new Float64Array(m * m);
  for (let a = 0; a < m; a++) {
    let sum = 0;
    for (let b = 0; b < m; b++) {
      const z = (shifts_m[b]! - correlation * shifts_m[a]!) / sd;
      sum += matrix[a * m + b] = Math.exp((-z * z) / 2);
    }
    for (let b = 0; b < m; b++) matrix[a * m + b]! /= sum;
  }
  return matrix;
}

interface Pass {
  readonly step: Float64Array;
  readonly place: Float64Array;
  readonly from: number;
  readonly to: number;
}

/** Probabilities of each shift by station, given the stations passed; each row adds up to one. */
function passAlong(likely: Float64Array, { step, place, from, to }: Pass): Float64Array {
  const m = place.length;
  const out = new Float64Array(likely.length);
  const by = to > from ? 1 : -1;
  const reached = place.slice();
  for (let i = from; i !== to; i += by) {
    let sum = 0;
    for (let s = 0; s < m; s++) {
      reached[s] = reached[s]! * likely[i * m + s]!;
      sum += reached[s]!;
    }
    for (let s = 0; s < m; s++) out[i * m + s] = reached[s]! / sum;
    reached.fill(0);
    for (let a = 0; a < m; a++) {
      const share = out[i * m + a]!;
      for (let b = 0; b < m; b++) reached[b]! += share * step[a * m + b]!;
    }
  }
  return out;
}
