import type { Table } from "../../step/figure.js";
import type { CampaignPlacement } from "../place-campaign.js";
import { REASONS } from "./account.js";
import { type Coregistration, isApart, type PassPair } from "./coregister.js";

/** The passes against each other; no table where none were compared. */
export function coregistrationTables(placements: readonly CampaignPlacement[]): readonly Table[] {
  const rows = placements.flatMap(({ campaign, coregistration: { pairs, from } }) =>
    pairs
      .filter(({ found }) => found !== "no overlap" && found !== "other line")
      .map((pair) => ({ campaign, one: pair.one, other: pair.other, ...cells(pair, from) })),
  );
  if (rows.length === 0) return [];
  const columns = [
    { field: "campaign", label: "Campaign" },
    { field: "one", label: "First pass" },
    { field: "other", label: "Second pass" },
    { field: "shift_m", label: "Second ahead by (m)", digits: 2 },
    { field: "sd_m", label: "± (m)", digits: 2 },
    { field: "likeness", label: "Correlation", digits: 2 },
    { field: "overlap_m", label: "Over (m)", digits: 0 },
    { field: "fate", label: "What becomes of it" },
  ];
  const caption =
    "The passes against each other: how far the second lies ahead of the first along the bank, " +
    "by what both read.";
  return [{ id: "passes-together", caption, columns, rows }];
}

function cells({ found }: PassPair, from: Coregistration["from"]) {
  if (typeof found === "string") {
    const nothing = { shift_m: null, sd_m: null, likeness: null, overlap_m: null };
    return { ...nothing, fate: `not told: ${REASONS[found].text}` };
  }
  const { mean_m, sd_m, correlation, overlap_m } = found;
  const moved = from === "readings" ? "brought to their middle" : "left as they are";
  const fate = isApart(found) ? moved : "left: not clearly apart";
  return { shift_m: mean_m, sd_m, likeness: correlation, overlap_m, fate };
}
