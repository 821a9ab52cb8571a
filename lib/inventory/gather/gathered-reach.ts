import { readFile } from "node:fs/promises";
import { join } from "node:path";
import type { BlockFinding, SeepageFinding } from "../../chain/findings.js";
import { zipped } from "../../numerics/arrays.js";
import type { Reach } from "../reaches/reach.js";
import type {
  BlockLevel,
  EvidenceCells,
  IncidentRecord,
  LonLatPair,
  OfferedRecord,
  ReachRecord,
} from "../record/reach-record.js";
import { OUTCOME, REACHES, RECORD, type ReachOutcome } from "./outcome.js";

/** What is held of a reach while all are looked at together. */
export interface GatheredReach {
  readonly reach: Reach;
  readonly state: ReachOutcome["state"] | "failed";
  readonly why: readonly string[];
  /** Null where it was not interpreted. */
  readonly found: FoundReach | null;
}

export interface FoundReach {
  readonly embankment: string;
  readonly length_m: number;
  readonly campaigns: readonly string[];
  readonly campaign: string;
  readonly line: readonly LonLatPair[];
  /** Of the main line. */
  readonly blocks: readonly GatheredBlock[];
  readonly zones: readonly GatheredZone[];
  readonly cells: EvidenceCells;
  readonly incidents: readonly IncidentRecord[];
  readonly drilled_m: readonly number[];
  readonly offered: readonly OfferedRecord[];
  readonly readings: number;
  readonly setAside: number;
}

export interface GatheredBlock extends Pick<BlockFinding, "id" | "from_m" | "to_m" | "class"> {
  readonly path: readonly LonLatPair[];
  readonly levels: readonly BlockLevel[];
}

export interface GatheredZone
  extends Pick<SeepageFinding, "rank" | "from_m" | "to_m" | "score" | "probability" | "evidence"> {
  readonly path: readonly LonLatPair[];
}

/** Reads what a reach's job left; `lastWords` tells why one left nothing. */
export async function gatheredReach(
  out: string,
  reach: Reach,
  lastWords: (reach: Reach) => Promise<readonly string[]>,
): Promise<GatheredReach> {
  const folder = join(out, REACHES, reach.reach);
  const outcome = await jsonOf<ReachOutcome>(join(folder, OUTCOME));
  if (outcome === null) return { reach, state: "failed", why: await lastWords(reach), found: null };
  if (outcome.state === "refused") {
    return { reach, state: "refused", why: outcome.faults, found: null };
  }
  const record = await jsonOf<ReachRecord>(join(folder, RECORD));
  if (record === null) {
    return { reach, state: "failed", why: [`${RECORD} is missing beside ${OUTCOME}`], found: null };
  }
  return { reach, state: "interpreted", why: [], found: foundIn(record) };
}

async function jsonOf<Content>(file: string): Promise<Content | null> {
  const text = await readFile(file, "utf8").catch((error: NodeJS.ErrnoException) => {
    if (error.code === "ENOENT") return null;
    throw error;
  });
  return text === null ? null : (JSON.parse(text) as Content);
}

/** Without the findings that no comparison looks at. */
export function foundIn(record: ReachRecord): FoundReach {
  const { findings, blocks, paths, account } = record;
  const count = (rows: typeof account) => rows.reduce((sum, { readings }) => sum + readings, 0);
  return {
    embankment: record.embankment,
    length_m: record.length_m,
    campaigns: record.campaigns,
    campaign: record.campaign,
    line: record.line,
    blocks: zipped(findings.blocks, blocks)
      .filter(([, { levels }]) => levels.length > 0)
      .map(([{ id, from_m, to_m, class: own }, rest]) => {
        return { id, from_m, to_m, class: own, ...rest };
      }),
    zones: zipped(findings.seepage, paths.seepage).map(([zone, path]) => {
      const { rank, from_m, to_m, score, probability, evidence } = zone;
      return { rank, from_m, to_m, score, probability, evidence, path };
    }),
    cells: record.cells,
    incidents: record.incidents,
    drilled_m: record.drilled_m,
    offered: record.offered,
    readings: count(account),
    setAside: count(account.filter(({ fate }) => fate === "set aside")),
  };
}
