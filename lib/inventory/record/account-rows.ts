import { groupedBy } from "../../numerics/arrays.js";
import { accountFor } from "../../survey/account/reading-status.js";
import type { Campaign } from "../../survey/survey.js";
import type { AccountRow } from "./reach-record.js";

/** What became of the readings of every campaign, in numbers; they add up to what came in. */
export function accountRows(campaigns: readonly Campaign[]): readonly AccountRow[] {
  return [...groupedBy(campaigns, ({ label }) => label)].flatMap(([campaign, own]) => {
    const { kept, corrected, setAside } = accountFor(own);
    return [
      { campaign, fate: "kept" as const, cause: "", readings: kept },
      { campaign, fate: "corrected" as const, cause: "", readings: corrected },
      ...setAside.map(({ cause, readings }) => {
        return { campaign, fate: "set aside" as const, cause, readings };
      }),
    ];
  });
}
