import { type DriftStories, SCATTER_SHARES } from "./drift-hypotheses.js";

/** What the other channels of the instrument let expect of one channel. */
export interface Traits {
  /** How common each scatter of whole visits is, as `SCATTERS` lists them. */
  readonly scatterShares: readonly number[];
  /** How likely each of the channel's step sets is. */
  readonly setShares: readonly number[];
}

/** As many channels as these are thought of before any channel is seen. */
const BEFOREHAND = 3;
/** How likely it is beforehand that the level steps at a time at which it may. */
const MAY_STEP = 0.2;
const ROUNDS = 10;

/**
 * For each channel, how common each scatter of whole visits and each step is by what the other channels
 * show: all are set down together, and a change of battery befalls all. Its own checks are left out, as
 * they count by themselves. Empirical Bayes in a few rounds.
 *
 * @param within_s steps of two channels are one event where they are this close
 */
export function commonTraits(
  channels: readonly DriftStories[],
  within_s: number,
): readonly Traits[] {
  const tables = channels.map(tableOf);
  let traits = channels.map((own): Traits => {
    const setShares = setSharesOf(own, () => MAY_STEP);
    return { scatterShares: SCATTER_SHARES, setShares };
  });
  for (let round = 0; round < ROUNDS; round++) {
    const likely = channels.map((own, c) => likelyOf(own, tables[c]!, traits[c]!));
    traits = channels.map((own, c): Traits => {
      const others = likely.filter((_, d) => d !== c);
      const chance = (time_s: number) => chanceOf(time_s, others, within_s);
      return { scatterShares: scatterOf(others), setShares: setSharesOf(own, chance) };
    });
  }
  return traits;
}

/** Likelihood of each step set with each scatter, all shapes together, up to a factor. */
type Table = readonly (readonly number[])[];

function tableOf({ stories, sets }: DriftStories): Table {
  const best = stories.reduce((most, one) => Math.max(most, one.logLikelihood), -Infinity);
  const table = sets.map(() => SCATTER_SHARES.map(() => 0));
  for (const { set, scatter, share, logLikelihood } of stories) {
    table[set]![scatter]! += share * Math.exp(logLikelihood - best);
  }
  return table;
}

interface Likely {
  /** Empty where the channel has no visits to tell it. */
  readonly scatter: readonly number[];
  readonly steps: readonly { readonly time_s: number; readonly odds: number }[];
}

function likelyOf(own: DriftStories, table: Table, { scatterShares, setShares }: Traits): Likely {
  const joint = table.map((row, s) =>
    row.map((value, k) => value * setShares[s]! * scatterShares[k]!),
  );
  const total = joint.flat().reduce((sum, value) => sum + value, 0);
  if (!(total > 0)) return { scatter: [], steps: [] };
  const scatter = SCATTER_SHARES.map((_, k) => sumOf(joint, (row) => row[k]!) / total);
  const steps = own.possible_s.map((time_s) => {
    const inIt = joint.filter((_, s) => own.sets[s]!.own_s.includes(time_s));
    return { time_s, odds: sumOf(inIt, (row) => sumOf(row, (value) => value)) / total };
  });
  return { scatter, steps };
}

function scatterOf(others: readonly Likely[]): readonly number[] {
  const known = others.filter(({ scatter }) => scatter.length > 0);
  return SCATTER_SHARES.map((share, k) => {
    const seen = sumOf(known, ({ scatter }) => scatter[k]!);
    return (BEFOREHAND * share + seen) / (BEFOREHAND + known.length);
  });
}

function chanceOf(time_s: number, others: readonly Likely[], within_s: number): number {
  const near = others.flatMap(({ steps }) =>
    steps.filter((one) => Math.abs(one.time_s - time_s) <= within_s).slice(0, 1),
  );
  const seen = sumOf(near, ({ odds }) => odds);
  return (BEFOREHAND * MAY_STEP + seen) / (BEFOREHAND + near.length);
}

/** Each possible step by itself; the sets that there are share all. */
function setSharesOf(
  { sets, possible_s }: DriftStories,
  chance: (time_s: number) => number,
): readonly number[] {
  const chances = possible_s.map(chance);
  const shares = sets.map(({ own_s }) =>
    possible_s.reduce((share, time_s, k) => {
      return share * (own_s.includes(time_s) ? chances[k]! : 1 - chances[k]!);
    }, 1),
  );
  const total = sumOf(shares, (share) => share);
  return shares.map((share) => share / total);
}

function sumOf<T>(list: readonly T[], of: (one: T) => number): number {
  return list.reduce((sum, one) => sum + of(one), 0);
}
