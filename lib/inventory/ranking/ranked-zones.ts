import { itemAt } from "../../numerics/arrays.js";
import { seededRandom } from "../../numerics/random.js";
import { quantile } from "../../numerics/statistics/robust.js";
import { bandOf, logit, probabilityOf } from "../../seepage/bands.js";
import { seepageDefaults } from "../../seepage/options.js";
import type { EvidenceName, SeepageBand, SeepageZone } from "../../seepage/seepage.js";
import type { PooledWeight, PooledWeights, WeightTable } from "../weights/pooled-weights.js";

/** A seepage zone of one reach. */
export interface ReachZone {
  readonly reach: string;
  readonly zone: Pick<SeepageZone, "rank" | "from_m" | "to_m" | "score" | "evidence">;
}

/** A zone's place among those of all reaches. */
export interface RankedZone {
  readonly reach: string;
  /** Its rank within the reach. */
  readonly zone: number;
  readonly from_m: number;
  readonly to_m: number;
  /** Over all reaches, 1 has the strongest evidence. */
  readonly rank: number;
  /** 80 % of its ranks under weights drawn from what is known of them. */
  readonly rankRange: readonly [number, number];
  /** Over all reaches by the scores that the reaches give by themselves. */
  readonly rankAlone: number;
  /** Share of the draws in which it is among the first ten. */
  readonly amongFirstTen: number;
  readonly score: number;
  readonly probability: number;
  readonly band: SeepageBand;
  /** Share of the draws in which its band stays. */
  readonly bandKept: number;
  readonly contributions: readonly { readonly name: EvidenceName; readonly value: number }[];
}

const DRAWS = 400;
const FIRST = 10;
const SEED = 1;

/**
 * The seepage zones of all reaches by one measure: each zone's score from its evidence under the
 * weights that all recorded incidents give (`pooledWeights`), its reach's own where its incidents
 * tell them apart. Ranks are tried under weights drawn from their uncertainty, what all reaches
 * share drawn once for all of them. Where a zone begins and ends stays as its reach found it.
 */
export function rankedZones(
  zones: readonly ReachZone[],
  weights: PooledWeights,
): readonly RankedZone[] {
  const sorted = zones.toSorted(byPlace);
  const scored = sorted.map((one) => {
    const table = weights.byReach.get(one.reach) ?? weights.common;
    const contributions = contributionsOf(one, table);
    const start = logit(seepageDefaults.startingProbability);
    const score = contributions.reduce((sum, { value }) => sum + value, start);
    return { ...one, table, contributions, score };
  });
  const scores = Float64Array.from(scored, ({ score }) => score);
  const draws = drawnScores(scored, weights);
  const ranks = draws.map(ranksOf);
  const own = ranksOf(scores);
  const alone = ranksOf(Float64Array.from(sorted, ({ zone }) => zone.score));
  return scored
    .map(({ reach, zone, score, contributions }, z) => {
      const band = bandOf(probabilityOf(score), seepageDefaults);
      const tried = ranks.map((row) => row[z]!);
      const kept = draws.filter((row) => {
        return bandOf(probabilityOf(row[z]!), seepageDefaults) === band;
      });
      const ends = [0.1, 0.9].map((p) => Math.round(quantile(tried, p)));
      return {
        ...{ reach, zone: zone.rank, from_m: zone.from_m, to_m: zone.to_m },
        ...{ rank: own[z]!, rankRange: [itemAt(ends, 0), itemAt(ends, 1)] as const },
        rankAlone: alone[z]!,
        amongFirstTen: tried.filter((rank) => rank <= FIRST).length / DRAWS,
        ...{ score, probability: probabilityOf(score), band, bandKept: kept.length / DRAWS },
        contributions,
      };
    })
    .sort((one, other) => one.rank - other.rank);
}

const byPlace = (one: ReachZone, other: ReachZone) =>
  one.reach === other.reach ? one.zone.rank - other.zone.rank : one.reach < other.reach ? -1 : 1;

function contributionsOf({ zone }: ReachZone, table: WeightTable) {
  return zone.evidence.flatMap(({ name, value }) => {
    if (value === null) return [];
    const { present, absent } = table[name];
    return [{ name, value: value * present + (1 - value) * absent }];
  });
}

interface Scored extends ReachZone {
  readonly table: WeightTable;
  readonly contributions: RankedZone["contributions"];
  readonly score: number;
}

function drawnScores(zones: readonly Scored[], { common }: PooledWeights): Float64Array[] {
  const random = seededRandom(SEED);
  const names = Object.keys(common) as EvidenceName[];
  const m = names.length;
  const reaches = [...new Set(zones.map(({ reach }) => reach))];
  const places = new Map(reaches.map((reach, place) => [reach, place * m]));
  const rows = zones.map((zone) => {
    const moves = movesOf(zone, common);
    return {
      score: zone.score,
      from: places.get(zone.reach) ?? 0,
      name: Int32Array.from(moves, ({ name }) => names.indexOf(name)),
      shared: Float64Array.from(moves, ({ shared }) => shared),
      own: Float64Array.from(moves, ({ own }) => own),
    };
  });
  const ownDraws = new Float64Array(reaches.length * m);
  return Array.from({ length: DRAWS }, () => {
    const sharedDraws = Float64Array.from(names, () => random.normal());
    for (let i = 0; i < ownDraws.length; i++) ownDraws[i] = random.normal();
    return Float64Array.from(rows, ({ score, from, name, shared, own }) => {
      let sum = score;
      for (let i = 0; i < name.length; i++) {
        const at = name[i]!;
        sum += shared[i]! * sharedDraws[at]! + own[i]! * ownDraws[from + at]!;
      }
      return sum;
    });
  });
}

/** By how much a zone's score moves with one standard deviation of each piece's weight. */
function movesOf({ zone, table, contributions }: Scored, common: WeightTable) {
  const shown = new Map(zone.evidence.map(({ name, value }) => [name, value]));
  return contributions.map(({ name, value: weight }) => {
    const [own, general] = [table[name], common[name]];
    if (own.usual === null) {
      return { name, shared: weight * relativeSd(own), own: 0 };
    }
    const away = (shown.get(name) ?? 0) - own.usual;
    return { name, shared: away * general.sd, own: away * own.sd };
  });
}

function relativeSd({ present, absent, sd }: PooledWeight): number {
  const most = Math.max(Math.abs(present), Math.abs(absent));
  return most > 0 ? sd / most : 0;
}

/** 1 for the greatest; those that are equal keep their order. */
function ranksOf(scores: Float64Array): Int32Array {
  const order = [...scores.keys()].sort((a, b) => scores[b]! - scores[a]! || a - b);
  const ranks = new Int32Array(scores.length);
  for (const [place, z] of order.entries()) ranks[z] = place + 1;
  return ranks;
}
