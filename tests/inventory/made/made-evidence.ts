import type { EvidenceCells, IncidentRecord } from "../../../lib/inventory/record/reach-record.js";
import { seepageDefaults } from "../../../lib/seepage/options.js";
import type { EvidenceName, SeepageZone } from "../../../lib/seepage/seepage.js";
import { type Chance, chance } from "../../abroad/random.js";

/** Evidence along a bank whose weak places are known. */
export interface MadeEvidence {
  readonly cells: EvidenceCells;
  readonly incidents: readonly IncidentRecord[];
  /** True of cells in a weak place. */
  readonly isWeak: readonly boolean[];
  readonly zones: readonly SeepageZone[];
}

const CELL_M = 5;

/** How often a piece shows in a weak place, and how often a patch elsewhere looks alike. */
interface Showing {
  readonly name: EvidenceName;
  readonly hit: number;
  readonly falseRate: number;
}

/**
 * A country where the declared weights are off: cores that stand out are everywhere and mean nothing,
 * what gets wetter at high water means much, a thin blanket most.
 */
const COUNTRY: readonly Showing[] = [
  { name: "pervious under cover", hit: 0.45, falseRate: 0.2 },
  { name: "resistive core", hit: 0.25, falseRate: 0.25 },
  { name: "wetter at high water", hit: 0.7, falseRate: 0.06 },
  { name: "thin blanket at the toe", hit: 0.75, falseRate: 0.05 },
  { name: "crossing or boundary", hit: 0.15, falseRate: 0.12 },
];

/** Patches of evidence, 20 to 80 m long, and weak places that show some of it; water on record. */
export function madeEvidence(seed: number, length_m: number): MadeEvidence {
  const random = chance(seed, "made evidence");
  const chainage_m = Array.from({ length: Math.floor(length_m / CELL_M) }, (_, i) => CELL_M * i);
  const weak = Array.from({ length: Math.floor(3 * random.uniform()) }, () => {
    const from_m = random.between(20, length_m - 80);
    return { from_m, to_m: from_m + random.between(15, 60) };
  });
  const within = (x: number, { from_m, to_m }: Place) => x >= from_m && x <= to_m;
  const isWeak = chainage_m.map((x) => weak.some((place) => within(x, place)));
  const known = COUNTRY.filter(() => random.uniform() < 0.85);
  const pieces = Object.fromEntries(
    known.map((piece) => {
      const patches = patchesOf(random, piece, weak, length_m);
      const value = chainage_m.map((x) => {
        const noise = random.between(-0.15, 0.15);
        const present = patches.some((patch) => within(x, patch)) ? 0.85 : 0.1;
        return Math.round(1000 * Math.min(1, Math.max(0, present + noise))) / 1000;
      });
      return [piece.name, value];
    }),
  );
  const cells = { cell_m: CELL_M, chainage_m, pieces };
  return { cells, incidents: incidentsOf(random, weak, length_m), isWeak, zones: zonesOf(cells) };
}

interface Place {
  readonly from_m: number;
  readonly to_m: number;
}

function patchesOf(
  random: Chance,
  { hit, falseRate }: Showing,
  weak: readonly Place[],
  length_m: number,
): readonly Place[] {
  const shown = weak.filter(() => random.uniform() < hit);
  const count = Math.round((falseRate * length_m) / 50);
  const others = Array.from({ length: count }, () => {
    const from_m = random.between(0, length_m);
    return { from_m, to_m: from_m + random.between(20, 80) };
  });
  return [...shown, ...others];
}

/** Some banks are watched well, others hardly; a few wet patches have other causes. */
function incidentsOf(random: Chance, weak: readonly Place[], length_m: number): IncidentRecord[] {
  const watched = random.between(0.2, 0.9);
  const incident = (chainage_m: number): IncidentRecord => {
    return { date: "2029-02-03", chainage_m, kind: "wet patch", isWet: true };
  };
  const shown = weak.filter(() => random.uniform() < watched);
  return [
    ...shown.map(({ from_m, to_m }) => incident((from_m + to_m) / 2 + 8 * random.normal())),
    ...(random.uniform() < 0.15 ? [incident(random.between(0, length_m))] : []),
  ];
}

/** Cells whose declared score stands out, joined. */
function zonesOf({ chainage_m, pieces }: EvidenceCells): readonly SeepageZone[] {
  const names = Object.keys(pieces) as EvidenceName[];
  const zones: { from: number; to: number }[] = [];
  for (let i = 0; i < chainage_m.length; i++) {
    const score = names.reduce((sum, name) => sum + weighed(name, pieces[name]![i]!), -3.5);
    if (score < 0) continue;
    const last = zones.at(-1);
    if (last !== undefined && i - last.to <= 3) last.to = i;
    else zones.push({ from: i, to: i });
  }
  const scored = zones.map(({ from, to }) => {
    const evidence = names.map((name) => {
      const values = pieces[name]!.slice(from, to + 1) as readonly number[];
      const value = values.reduce((sum, one) => sum + one, 0) / values.length;
      return { name, weight: weighed(name, value), value, statement: "Made.", source: "made" };
    });
    const score = evidence.reduce((sum, { weight }) => sum + weight, -3.476);
    return { from_m: chainage_m[from]! - 2.5, to_m: chainage_m[to]! + 2.5, evidence, score };
  });
  return scored
    .sort((one, other) => other.score - one.score)
    .map((zone, k) => {
      const probability = 1 / (1 + Math.exp(-zone.score));
      const band = probability >= 0.75 ? "high" : probability >= 0.5 ? "moderate" : "low";
      return {
        ...zone,
        ...{ rank: k + 1, probability, band, rankRange: [k + 1, k + 1], bandKept: 1 },
        ...{ gradientWhy: "made", hydraulics: null, exitGradient: null },
      };
    });
}

function weighed(name: EvidenceName, value: number): number {
  const { present, absent } = seepageDefaults.weights[name];
  return value * present + (1 - value) * absent;
}
