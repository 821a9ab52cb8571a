import type { OfLine } from "../../chain/findings.js";

/** What a claim is about. */
export type ClaimKind =
  | "make of bank"
  | "metal"
  | "change"
  | "resistivity section"
  | "seepage"
  | "borehole";

/** A number that a claim states, with the interval that it states for it. */
export interface Bounded {
  /** Such as "0–0.5 m". */
  readonly name: string;
  readonly low: number;
  readonly high: number;
}

/** One thing that an appendix says of one place, which a reviewer may agree with or not. */
export interface Claim extends OfLine {
  /** Unique within an appendix, such as "block B1". */
  readonly id: string;
  readonly kind: ClaimKind;
  /** Chainages that it holds for; equal for a point, null where it has none. */
  readonly from_m: number | null;
  readonly to_m: number | null;
  /** What another appendix' claim on the same place must say as well; "" where nothing. */
  readonly word: string;
  readonly numbers: readonly Bounded[];
  readonly statement: string;
  readonly evidence: string;
  /** What becomes of its kind under each alternative of a decision that moves it. */
  readonly alternatives: readonly string[];
}

/** A claim beside that of another appendix on the same place. */
export interface ClaimPair {
  readonly kind: ClaimKind;
  readonly outcome: "both" | "altered" | "only here" | "only there";
  readonly here: string | null;
  readonly there: string | null;
  /** How they differ; "" where they do not, or where one is alone. */
  readonly how: string;
  /** Where each holds; null where there is none, or where it has no place along the bank. */
  readonly places: { readonly here: ClaimPlace | null; readonly there: ClaimPlace | null };
}

/** Chainages that a claim holds for; equal for a point. */
export interface ClaimPlace extends OfLine {
  readonly from_m: number;
  readonly to_m: number;
}
