/** What a reviewer may say of a claim. */
export const verdicts = ["agree", "disagree", "unsure"] as const;
export type Verdict = (typeof verdicts)[number];

/** A reviewer's word on one claim; null where he left it open. */
export interface ReviewedClaim {
  readonly claim: string;
  readonly verdict: Verdict | null;
  readonly remark: string;
}

/** A reviewer's sheet as it was read back. */
export interface ReviewSheet {
  /** Who reviewed, as the sheet says; "" where it does not. */
  readonly reviewer: string;
  /** sha-256 of the sheet's file. */
  readonly sha256: string;
  readonly claims: readonly ReviewedClaim[];
}

/** What the reviewer said, counted, in one sentence. */
export function sheetText({ reviewer, claims, sha256 }: ReviewSheet): string {
  const count = (verdict: Verdict | null) => claims.filter((one) => one.verdict === verdict).length;
  const said = verdicts.map((verdict) => `${verdict} ${count(verdict)}`).join(", ");
  const who = reviewer === "" ? "A reviewer who gives no name" : reviewer;
  return `${who}, on ${claims.length} claims: ${said}, open ${count(null)} (sheet ${sha256.slice(0, 12)}).`;
}
