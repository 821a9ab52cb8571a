import { type ColumnDraws, SliceSpreads } from "./slice-spreads.js";

export interface SliceChoice {
  readonly top_m: number;
  readonly base_m: number;
  readonly reliable: boolean;
}

export interface ChoiceOptions {
  /** A slice is reliable where its mean is known to this deviation, log10. */
  readonly sliceSd: number;
  /** Deviation of a slice before the data, log10. */
  readonly priorSd: number;
}

/** Score of a metre of reliable slices, nats of information. */
const PER_METRE = 0.35;
/** Neither half of a reliable slice is worse known than this many times the slice may be. */
const HALF = 1.6;
/** Cost of a slice that is not reliable, nats; none stands below the last reliable one. */
const UNRELIABLE = 1.5;

/**
 * The row of slices, from the surface down, with the most information: the greatest sum of
 * ln(prior deviation / posterior deviation), and of depth, over all rows on the grid in which
 * reliable neighbours are told apart. A slice is reliable where its mean and both halves are known
 * and no strong contrast lies within it; slices that are not stand above or between those that are.
 */
export function spreadSlices(draws: ColumnDraws, options: ChoiceOptions): readonly SliceChoice[] {
  const spreads = new SliceSpreads(draws);
  const row = bestRow(draws, spreads, options);
  if (row.length > 0) return row;
  // No slice is known well enough: those known best are handed on, none of them reliable.
  for (let wider = WIDER; wider <= WIDEST; wider *= WIDER) {
    const loose = bestRow(draws, spreads, { ...options, sliceSd: wider * options.sliceSd });
    if (loose.length > 0) return loose.map((slice) => ({ ...slice, reliable: false }));
  }
  return [];
}

const WIDER = 1.25;
const WIDEST = 3;

function bestRow(
  draws: ColumnDraws,
  spreads: SliceSpreads,
  options: ChoiceOptions,
): readonly SliceChoice[] {
  const m = draws.top_m.length;
  const best = new Map<string, { score: number; from: string | null; reliable: boolean }>();
  let end: string | null = null;
  let most = Number.NEGATIVE_INFINITY;
  for (let b = 1; b < m; b++) {
    for (let a = 0; a < b; a++) {
      const sd = spreads.of(a, b);
      const reliable =
        sd <= options.sliceSd &&
        spreads.ofHalves(a, b) <= HALF * options.sliceSd &&
        spreads.unevenness(a, b) <= options.sliceSd;
      const thick_m = draws.top_m[b]! - draws.top_m[a]!;
      const told = Math.max(0, Math.log(options.priorSd / sd));
      const own = reliable ? told + PER_METRE * thick_m : -UNRELIABLE;
      const found = bestAbove(a, b, { spreads, best, options, reliable });
      if (found === null) continue;
      const score = found.score + own;
      best.set(`${a} ${b}`, { score, from: found.key, reliable });
      if (reliable && score > most) [most, end] = [score, `${a} ${b}`];
    }
  }
  return backward(best, end, draws.top_m);
}

interface Search {
  readonly spreads: SliceSpreads;
  readonly best: Map<string, { score: number; reliable: boolean }>;
  readonly options: ChoiceOptions;
  /** Of the slice that the row is to be continued by. */
  readonly reliable: boolean;
}

/** The best row that ends where a slice begins, its last slice told apart from this one. */
function bestAbove(a: number, b: number, { spreads, best, options, reliable }: Search) {
  if (a === 0) return { score: 0, key: null };
  let found: { score: number; key: string } | null = null;
  for (let above = 0; above < a; above++) {
    const key = `${above} ${a}`;
    const row = best.get(key);
    if (row === undefined || (found !== null && row.score <= found.score)) continue;
    const both = reliable && row.reliable;
    if (both && spreads.difference([above, a], [a, b]) > APART * options.priorSd) continue;
    found = { score: row.score, key };
  }
  return found;
}

/** Two slices are told apart where their difference is known to this share of a slice's prior. */
const APART = 0.35;

function backward(
  best: Map<string, { from: string | null; reliable: boolean }>,
  end: string | null,
  top_m: Float64Array,
): SliceChoice[] {
  const slices: SliceChoice[] = [];
  for (let key = end; key !== null; ) {
    const [a, b] = key.split(" ").map(Number) as [number, number];
    const row = best.get(key)!;
    slices.unshift({ top_m: top_m[a]!, base_m: top_m[b]!, reliable: row.reliable });
    key = row.from;
  }
  return slices;
}
