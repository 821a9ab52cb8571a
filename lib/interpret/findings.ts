import type { BlockSlice } from "../blocks/blocks.js";
import type { Change } from "../campaigns/changes.js";
import type { Caution } from "../result/step-account.js";
import type { ZoneEvidence } from "../seepage/seepage.js";

/** What the survey comes to: the content of findings.json. Chainages to 0.1 m. */
export interface Findings {
  readonly survey: {
    readonly name: string;
    readonly embankment: string;
    readonly length_m: number;
    readonly campaigns: readonly string[];
  };
  readonly drift: readonly DriftFinding[];
  readonly setAside: readonly SetAsideFinding[];
  readonly unexplained: readonly {
    readonly campaign: string;
    readonly from_m: number;
    readonly to_m: number;
  }[];
  readonly silentNotes: readonly {
    readonly object: string;
    readonly from_m: number;
    readonly to_m: number;
  }[];
  readonly depth: {
    readonly slices: readonly { readonly top_m: number; readonly base_m: number }[];
    readonly independentLevels: number;
    readonly reliableTo_m: number;
    readonly misfit: number;
  };
  readonly blocks: readonly BlockFinding[];
  readonly changes: readonly Change[];
  readonly sections: readonly SectionFinding[];
  readonly seepage: readonly SeepageFinding[];
  readonly boreholes: readonly BoreholeFinding[];
  readonly robustness: readonly RobustnessFinding[];
  readonly cautions: readonly Caution[];
}

export interface DriftFinding {
  readonly campaign: string;
  readonly channel: string;
  readonly model: string;
  readonly perHour: number;
  readonly residual: number | null;
  readonly checks: number;
}

export interface SetAsideFinding {
  readonly campaign: string;
  readonly from_m: number;
  readonly to_m: number;
  readonly cause: "documented" | "detected" | "both";
  readonly object: string;
  readonly channels: readonly string[];
  readonly readings: number;
}

export interface BlockFinding {
  readonly id: string;
  readonly from_m: number;
  readonly to_m: number;
  readonly fromInterval_m: readonly [number, number];
  readonly toInterval_m: readonly [number, number];
  readonly class: string;
  readonly resistivity_ohm_m: readonly BlockSlice[];
  readonly readings: number;
  readonly masked_pct: number;
}

export interface SectionFinding {
  readonly line: string;
  readonly readings: number;
  readonly rejected: number;
  readonly rms: number;
  readonly iterations: number;
  readonly reliableTo_m: number;
}

export interface SeepageFinding {
  readonly rank: number;
  readonly from_m: number;
  readonly to_m: number;
  readonly score: number;
  readonly probability: number;
  readonly band: "low" | "moderate" | "high";
  readonly evidence: readonly ZoneEvidence[];
  readonly exitGradient: {
    readonly p10: number;
    readonly p50: number;
    readonly p90: number;
  } | null;
}

export interface BoreholeFinding {
  readonly id: string;
  readonly chainage_m: number;
  readonly offset_m: number;
  readonly depth_m: number;
  readonly purpose: string;
  readonly reason: string;
  readonly priority: number;
}

export interface RobustnessFinding {
  readonly decision: string;
  readonly chosen: string;
  readonly alternative: string;
  readonly effect: string;
}
