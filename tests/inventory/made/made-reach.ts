import type { Findings } from "../../../lib/chain/findings.js";
import type { ReachRecord } from "../../../lib/inventory/record/reach-record.js";
import { type Chance, chance } from "../../abroad/random.js";
import { type MadeBlock, madeBlocks } from "./made-blocks.js";
import { type MadeEvidence, madeEvidence } from "./made-evidence.js";

/** A record made at the level of findings, with its truth: cheap, and no part of the chain in it. */
export interface MadeReach {
  readonly record: ReachRecord;
  readonly blocks: readonly MadeBlock[];
  readonly evidence: MadeEvidence;
}

export interface MadeReachPlan {
  readonly seed: number;
  readonly reach: string;
  /** Default 1000 m. */
  readonly length_m?: number;
}

const CAMPAIGNS = ["2031-04", "2031-10"];

/** The same plan gives the same reach. */
export function madeReach({ seed, reach, length_m = 1000 }: MadeReachPlan): MadeReach {
  const random = chance(seed, "made reach");
  const blocks = madeBlocks(seed, length_m);
  const evidence = madeEvidence(seed, length_m);
  const at = lineFrom(random);
  const stretch = (from_m: number, to_m: number) => [at(from_m), at(to_m)];
  const offered = [0.15, 0.4, 0.62, 0.85].map((part, k) => ({
    ...{ chainage_m: part * length_m, offset_m: 0, depth_m: 6 + k, place: "crest" },
    ...{ purpose: "soil of ground like that about it", reason: "Made for a test." },
    adds_m: { soil: (60 / (k + 1)) * random.between(0.6, 1.4), block: 10 },
    at: at(part * length_m),
  }));
  const record: ReachRecord = {
    ...{ form: 1, reach, embankment: "Sedgeholm Bank", length_m },
    ...{ campaigns: CAMPAIGNS, campaign: CAMPAIGNS[0]!, line: stretch(0, length_m) },
    findings: findingsOf(blocks, evidence, length_m),
    blocks: blocks.map(({ from_m, to_m, levels }) => ({ path: stretch(from_m, to_m), levels })),
    paths: {
      changes: [stretch(0.3 * length_m, 0.35 * length_m)],
      seepage: evidence.zones.map(({ from_m, to_m }) => stretch(from_m, to_m)),
      boreholes: [at(0.15 * length_m)],
    },
    ...{ cells: evidence.cells, incidents: evidence.incidents, drilled_m: [], offered },
    account: CAMPAIGNS.flatMap((campaign) => [
      { campaign, fate: "kept" as const, cause: "", readings: 0 },
      { campaign, fate: "corrected" as const, cause: "", readings: 1800 },
      { campaign, fate: "set aside" as const, cause: "noise", readings: 12 },
    ]),
    unknown: [{ campaign: CAMPAIGNS[0]!, from_m: 40, to_m: 52, what: "no resistivity by depth" }],
  };
  return { record, blocks, evidence };
}

/** A straight of its own, somewhere within half a degree. */
function lineFrom(random: Chance) {
  const [lon, lat] = [3 + random.between(0, 0.5), 54 + random.between(0, 0.5)];
  const angle = random.between(0, Math.PI);
  const digits = (degrees: number) => Math.round(1e7 * degrees) / 1e7;
  return (x: number) =>
    [
      digits(lon + (x * Math.cos(angle)) / 65_000),
      digits(lat + (x * Math.sin(angle)) / 111_000),
    ] as const;
}

function findingsOf(
  blocks: readonly MadeBlock[],
  { zones }: MadeEvidence,
  length_m: number,
): Findings {
  return {
    survey: { name: "made", embankment: "Sedgeholm Bank", length_m, campaigns: CAMPAIGNS },
    drift: CAMPAIGNS.map((campaign) => ({
      ...{ campaign, channel: "q_5k_hcp", model: "linear", perHour: 12, residual: 3, checks: 8 },
    })),
    ...{ setAside: [], unexplained: [], silentNotes: [] },
    depth: { slices: [], independentLevels: 3, reliableTo_m: 4, misfit: 1 },
    blocks: blocks.map(({ id, from_m, to_m, letter, levels }) => ({
      ...{ id, from_m, to_m, class: letter, readings: 200, masked_pct: 0 },
      fromInterval_m: [from_m - 4, from_m + 4] as const,
      toInterval_m: [to_m - 4, to_m + 4] as const,
      resistivity_ohm_m: levels.map(({ top_m, base_m, log10, sd }) => ({
        ...{ top_m, base_m, median: 10 ** log10 },
        ...{ p10: 10 ** (log10 - 1.28 * sd), p90: 10 ** (log10 + 1.28 * sd) },
      })),
    })),
    changes: [
      {
        ...{ from_m: 0.3 * length_m, to_m: 0.35 * length_m, earlier: "2031-04", later: "2031-10" },
        ...{ direction: "fell", ratio: 0.8, ratioInterval: [0.7, 0.9], q: 0.01 },
        ...{ slices: ["0.0–1.0"], bySlice: [] },
      },
    ] as unknown as Findings["changes"],
    sections: [],
    seepage: zones,
    boreholes: [
      {
        ...{ id: "P1", chainage_m: 0.15 * length_m, offset_m: 0, depth_m: 6, priority: 1 },
        ...{ purpose: "soil of ground like that about it", reason: "Made for a test." },
      },
    ],
    robustness: [],
    cautions: [{ step: "maskInterference", text: "No field notes." }],
    decisions: [],
  };
}
