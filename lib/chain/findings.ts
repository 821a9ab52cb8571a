import type { Block } from "../blocks/blocks.js";
import type { Change } from "../campaigns/pair/changes.js";
import type { SetAsideStretch } from "../interference/masked.js";
import type { SeepageZone } from "../seepage/seepage.js";
import type { Caution } from "../step/step-account.js";

/** The walked line that a finding is of; left out where one line was walked. */
export interface OfLine {
  readonly line?: string;
}

/** A finding that may not be made where a decision goes another way. */
export interface Uncertain {
  /** Alternatives of decisions under which it is not made, as "decision = value". */
  readonly lostUnder?: readonly string[];
}

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
  readonly unexplained: readonly UnexplainedFinding[];
  readonly silentNotes: readonly SilentNoteFinding[];
  /** A list with a `line` each where several lines were walked, as the entries of other lists. */
  readonly depth: DepthFinding | readonly DepthFinding[];
  readonly blocks: readonly BlockFinding[];
  readonly changes: readonly ChangeFinding[];
  /** The pairs of campaigns behind `changes`, of the main line. */
  readonly compared?: readonly ComparedFinding[];
  readonly sections: readonly SectionFinding[];
  readonly seepage: readonly SeepageFinding[];
  readonly boreholes: readonly BoreholeFinding[];
  readonly robustness: readonly RobustnessFinding[];
  readonly cautions: readonly Caution[];
  readonly decisions: readonly DecisionFinding[];
}

export interface UnexplainedFinding extends OfLine {
  readonly campaign: string;
  readonly from_m: number;
  readonly to_m: number;
}

export interface ComparedFinding {
  readonly earlier: string;
  readonly later: string;
  /** Share of the line on which change is unknown, which is not the same as none, %. */
  readonly unknown_pct: number;
}

export interface SilentNoteFinding extends OfLine {
  readonly object: string;
  readonly from_m: number;
  readonly to_m: number;
}

export interface DepthFinding extends OfLine {
  readonly slices: readonly { readonly top_m: number; readonly base_m: number }[];
  readonly independentLevels: number;
  readonly reliableTo_m: number;
  readonly misfit: number;
}

export interface DriftFinding extends OfLine {
  readonly campaign: string;
  readonly channel: string;
  readonly model: string;
  readonly perHour: number;
  readonly residual: number | null;
  readonly checks: number;
}

export type SetAsideFinding = Omit<SetAsideStretch, "offset_m" | "score"> & OfLine;

/** A block with the number of readings in use within it. */
export type BlockFinding = Omit<Block, "stations"> & { readonly readings: number } & OfLine &
  Uncertain;

export type ChangeFinding = Change & OfLine & Uncertain;

export interface SectionFinding {
  readonly line: string;
  readonly readings: number;
  readonly rejected: number;
  readonly rms: number;
  readonly iterations: number;
  readonly reliableTo_m: number;
}

export interface SeepageFinding extends SeepageZone, Uncertain {
  /** True where it rests mostly on readings beside what was set aside, or that no ground explains. */
  readonly disturbed?: true;
}

export interface BoreholeFinding extends Uncertain {
  readonly id: string;
  readonly chainage_m: number;
  readonly offset_m: number;
  readonly depth_m: number;
  readonly purpose: string;
  readonly reason: string;
  readonly priority: number;
  /** "crest" or "landside toe". */
  readonly place?: string;
  /** Of the plans made with one weight halved or doubled, the share that holds it. */
  readonly kept?: number;
}

export interface RobustnessFinding {
  readonly decision: string;
  readonly chosen: string;
  readonly alternative: string;
  readonly effect: string;
  /**
   * Findings of the main line that are not made then, by name: blocks and boreholes by id, zones by
   * rank, changes by campaigns and place; left out where all stay.
   */
  readonly lost?: readonly string[];
}

/** A decision on the record. */
export interface DecisionFinding {
  readonly decision: string;
  readonly value: string;
  readonly because: string;
  /** Whose the reason is: "tool" where it is still the one that the tool proposes. */
  readonly by: "author" | "tool";
}
