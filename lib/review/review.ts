import type { SegmentationAgreement } from "../blocks/agreement/agreement.js";
import type { ClaimPair } from "./claims/claim.js";
import type { ReviewSheet } from "./sheet/sheet.js";

/**
 * What became of an appendix that was executed again; every list is empty where nothing differs.
 */
export interface Review {
  /** True where nothing differs. */
  readonly agrees: boolean;
  /** Numbers agree where they differ by at most this share of the greater. */
  readonly tolerance: number;
  /** Why it could not be executed again; null where it was. */
  readonly failed: string | null;
  /** Input files that are not those that the appendix was made from. */
  readonly inputs: readonly HashDifference[];
  /** Versions of the program, of Node and of packages. */
  readonly versions: readonly WordDifference[];
  /** Cells whose code is not the code that ran. */
  readonly code: readonly HashDifference[];
  /** What the order in which the stored cells ran is amiss. */
  readonly order: readonly string[];
  /** Cells whose stored output is not what their code gives. */
  readonly cells: readonly CellDifference[];
  /** Figures whose data differ. */
  readonly figures: readonly FigureDifference[];
  /** Numbers and words of the files of findings. */
  readonly numbers: readonly ValueDifference[];
  /** Files that are missing, or that differ as a whole. */
  readonly files: readonly FileDifference[];
  /** What was compared. */
  readonly compared: {
    readonly inputs: number;
    readonly cells: number;
    readonly figures: number;
    readonly files: number;
  };
  /**
   * What a second interpreter's blocks agree with; null where none were given. Never a difference.
   */
  readonly secondInterpreter: SegmentationAgreement | null;
  /** What a reviewer said of each claim; null where no sheet was given. Never a difference. */
  readonly sheet: ReviewSheet | null;
  /**
   * Another appendix of the bank, claim by claim; null where none was given. Never a difference.
   */
  readonly beside: readonly ClaimPair[] | null;
}

/** `name` is an input's path or a cell's id; null is a thing that is not there. */
export interface HashDifference {
  readonly name: string;
  readonly was: string | null;
  readonly is: string | null;
}

export interface WordDifference extends HashDifference {}

export interface CellDifference {
  readonly cell: string;
  /** Number of the output within the cell, from 1; null where the cell as a whole differs. */
  readonly output: number | null;
  /** Form of the output, such as "text/html". */
  readonly form: string;
  /** The text about the first difference. */
  readonly was: string;
  readonly is: string;
}

export interface FigureDifference {
  /** The file that the stored figure stands in. */
  readonly file: string;
  readonly figure: string;
  readonly title: string;
  /** The first values that differ, and how many do. */
  readonly values: readonly ValueAt[];
  readonly count: number;
}

/** A value by its path, such as "blocks[2].to_m". */
export interface ValueAt {
  readonly path: string;
  readonly was: unknown;
  readonly is: unknown;
}

export interface ValueDifference extends ValueAt {
  readonly file: string;
}

export interface FileDifference {
  readonly name: string;
  readonly what: string;
  readonly was: string;
  readonly is: string;
}
