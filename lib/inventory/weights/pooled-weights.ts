import { itemAt, zipped } from "../../numerics/arrays.js";
import { presentMean } from "../../numerics/statistics/present.js";
import { type SeepageOptions, seepageDefaults } from "../../seepage/options.js";
import type { EvidenceName, EvidenceWeight, UsedWeight } from "../../seepage/seepage.js";
import { type GroupRows, type PooledSlopes, pooledLogistic } from "./pooled-logistic.js";
import { type EvidenceWindow, evidenceWindows, type ReachEvidence } from "./windows.js";

export interface PooledWeight extends UsedWeight {
  /**
   * What the piece shows away from incidents, each window by its likelihood ratio: where present
   * less absent grows by one, the weight of a value v grows by v less this. Null of a declared
   * weight.
   */
  readonly usual: number | null;
}

export type WeightTable = Readonly<Record<EvidenceName, PooledWeight>>;

export interface PooledWeights {
  /** "incidents" where weights are estimated; "declared" where too few incidents are on record. */
  readonly from: "incidents" | "declared";
  readonly incidents: number;
  /** Reaches with an incident of water on record. */
  readonly reachesWithIncidents: number;
  readonly common: WeightTable;
  /** Standard deviation between reaches of present less absent, log-odds; 0 where declared. */
  readonly between: Readonly<Partial<Record<EvidenceName, number>>>;
  /** Each reach's own weights, drawn towards the common ones by what its incidents say. */
  readonly byReach: ReadonlyMap<string, WeightTable>;
}

export type PoolingWeights = Pick<
  SeepageOptions,
  "weights" | "weightRange" | "leastIncidents" | "reach_m"
>;

/** First guess of the spread of present less absent between reaches, log-odds. */
const BETWEEN = 0.5;
/** How often incidents are put on record differs by far more: its own spread, log-odds. */
const RECORDING = { prior: 3, between: 1 } as const;
/** An incident does not weigh itself. */
const itself: EvidenceName = "recorded incident";

/**
 * Weights of the evidence for seepage from all recorded incidents of an inventory together: present
 * less absent is the slope of a logistic regression of "water came out here, on record" on what the
 * pieces show, all at once, by windows of bank (`evidenceWindows`). Slopes of a reach vary about
 * common ones, which have the declared weights as prior; how often incidents are recorded is each
 * reach's own. A piece's absent weight is such that the mean of its likelihood ratio is one where
 * no incident is recorded. Under `leastIncidents` incidents the declared weights stand.
 *
 * Limits: an incident that nobody recorded counts as none, which draws slopes towards 0; where
 * records are kept more carefully at places that look weak, slopes are too steep.
 * Source: Agterberg 1989 (weights of evidence); Gelman et al. 2013 (partial pooling).
 */
export function pooledWeights(
  evidence: readonly ReachEvidence[],
  options: PoolingWeights = seepageDefaults,
): PooledWeights {
  const declared = declaredTable(options);
  const names = (Object.keys(declared) as EvidenceName[]).filter((name) => name !== itself);
  const sorted = evidence.toSorted((one, other) => (one.reach < other.reach ? -1 : 1));
  const windows = sorted.map((one) => evidenceWindows(one, names, options.reach_m.incident));
  const counts = windows.map((own) => own.filter(({ hasIncident }) => hasIncident).length);
  const incidents = counts.reduce((sum, count) => sum + count, 0);
  const reachesWithIncidents = counts.filter((count) => count > 0).length;
  const told = { incidents, reachesWithIncidents };
  if (incidents < options.leastIncidents) {
    const byReach = new Map(sorted.map(({ reach }) => [reach, declared]));
    return { from: "declared", ...told, common: declared, between: {}, byReach };
  }
  const away = windows.flat().filter(({ hasIncident }) => !hasIncident);
  const fit = fitted(windows, { names, declared, away, rate: incidents / windows.flat().length });
  const shown = names.map((_, k) => shownAway(away, k));
  const table = (slope: Float64Array, sd: (j: number) => number) =>
    tableOf(slope, sd, { names, declared, shown });
  const m = names.length + 1;
  return {
    from: "incidents",
    ...told,
    common: table(fit.mean, (j) => Math.sqrt(fit.covariance[j * m + j]!)),
    between: Object.fromEntries(names.map((name, k) => [name, fit.between[k + 1]!])),
    byReach: new Map(
      zipped(sorted, fit.groups).map(([{ reach }, { slope, sd }]) => {
        return [reach, table(slope, (j) => itemAt(sd, j))];
      }),
    ),
  };
}

function declaredTable({ weights, weightRange }: PoolingWeights): WeightTable {
  return Object.fromEntries(
    Object.entries(weights).map(([name, { present, absent }]) => {
      const sd = (weightRange * Math.max(Math.abs(present), Math.abs(absent))) / Math.sqrt(3);
      return [name, { present, absent, sd, from: "declared" as const, usual: null }];
    }),
  ) as unknown as WeightTable;
}

interface Pieces {
  readonly names: readonly EvidenceName[];
  readonly declared: WeightTable;
  readonly away: readonly EvidenceWindow[];
}

const slopeOf = ({ present, absent }: EvidenceWeight) => present - absent;

function fitted(
  windows: readonly (readonly EvidenceWindow[])[],
  { names, declared, away, rate }: Pieces & { readonly rate: number },
): PooledSlopes {
  const usual = names.map((_, k) => presentMean(away.map(({ value }) => value[k]!)) || 0);
  const groups = windows.map((own) => rowsOf(own, usual));
  const priors = names.map((name) => declared[name]);
  return pooledLogistic(groups, {
    mean: Float64Array.of(Math.log(rate / (1 - rate)), ...priors.map(slopeOf)),
    sd: Float64Array.of(RECORDING.prior, ...priors.map(({ sd }) => Math.SQRT2 * sd)),
    between: Float64Array.of(RECORDING.between, ...names.map(() => BETWEEN)),
  });
}

/** A piece that is not known is as usual: it says nothing. */
function rowsOf(windows: readonly EvidenceWindow[], usual: readonly number[]): GroupRows {
  return {
    x: Float64Array.from(
      windows.flatMap(({ value }) => [
        1,
        ...usual.map((mean, k) => (Number.isNaN(value[k]!) ? 0 : value[k]! - mean)),
      ]),
    ),
    y: Uint8Array.from(windows, ({ hasIncident }) => (hasIncident ? 1 : 0)),
  };
}

/** Values of a piece, and how many windows show them. */
type Shown = ReadonlyMap<number, number>;

function shownAway(away: readonly EvidenceWindow[], k: number): Shown {
  const shown = new Map<number, number>();
  for (const { value } of away) {
    const step = Math.round(100 * value[k]!) / 100;
    if (!Number.isNaN(step)) shown.set(step, (shown.get(step) ?? 0) + 1);
  }
  return shown;
}

function tableOf(
  slope: Float64Array,
  sd: (j: number) => number,
  { names, declared, shown }: Omit<Pieces, "away"> & { readonly shown: readonly Shown[] },
): WeightTable {
  const entries = names.map((name, k) => {
    const by = slope[k + 1]!;
    let [count, ratios, tilted] = [0, 0, 0];
    for (const [value, windows] of itemAt(shown, k)) {
      const ratio = windows * Math.exp(by * value);
      count += windows;
      ratios += ratio;
      tilted += ratio * value;
    }
    if (count === 0) return [name, declared[name]];
    const absent = -Math.log(ratios / count);
    const found = { present: by + absent, absent, sd: sd(k + 1), usual: tilted / ratios };
    return [name, { ...found, from: "incidents" as const }];
  });
  return { ...declared, ...Object.fromEntries(entries) };
}
