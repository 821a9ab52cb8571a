import type { Table } from "../../step/figure.js";
import type { Basis } from "../../step/step-account.js";
import type { PlaceOptions } from "../options.js";
import type { CampaignPlacement } from "../place-campaign.js";
import { isApart, LEAST_APART_M, type PassPair } from "./coregister.js";
import type { NoShift, PassShift } from "./pass-shift.js";

/** Why nothing is told, and whether it is worth a caution. */
const REASONS: Readonly<Record<NoShift, { readonly text: string; readonly isTold: boolean }>> = {
  "other line": { text: "they are of different lines", isTold: false },
  "no overlap": {
    text: "they share too few channels or less than 150 m of bank",
    isTold: false,
  },
  unlike: { text: "what they read is too flat, or too unlike", isTold: true },
  flat: { text: "what they read fits at more than one place, or at none well", isTold: true },
  beyond: { text: "they fit best more than 5 m apart, which is not believed", isTold: true },
};

/** What there is to know of passes that lie apart, or of which it cannot be told. */
export function togetherCautions(
  { campaign, together, lagFrom }: CampaignPlacement,
  used: PlaceOptions,
): readonly string[] {
  const { pairs, moved_m, from } = together;
  if (from === "given") {
    return [`${campaign}: passes are moved along the bank as given, by up to ${most(moved_m)} m.`];
  }
  const texts = pairs.flatMap((pair) => {
    if (typeof pair.found === "string") return untold(pair, pair.found);
    const largest_m = Math.max(...pair.found.shift_m.map(Math.abs));
    if (largest_m < LEAST_APART_M) return [];
    const mayLag = pair.isOpposite && lagFrom !== "passes" && lagFrom !== "pegs";
    return [`${apartText(pair, pair.found)}${fate(pair.found, from)}${mayLag ? LAG : ""}`];
  });
  const middle =
    from === "readings" && used.pegs !== "correct"
      ? [
          `the middle of passes brought together may itself be off by up to ${most(moved_m)} m; pegs tell`,
        ]
      : [];
  return [...texts, ...middle].map((text) => `${campaign}: ${text}.`);
}

const LAG =
  "; they were walked in opposite directions, and a time lag looks the same at a steady pace";

const most = (moved_m: readonly number[]) => Math.max(...moved_m.map(Math.abs)).toFixed(1);

function untold({ one, other }: PassPair, reason: NoShift): readonly string[] {
  const { text, isTold } = REASONS[reason];
  return isTold ? [`whether ${one} and ${other} agree along the bank cannot be told: ${text}`] : [];
}

function apartText({ one, other }: PassPair, found: PassShift): string {
  const { shift_m, mean_m, sd_m, likeness, overlap_m } = found;
  const range = shift_m.length > 1 ? ` (from ${least(shift_m)} to ${greatest(shift_m)} m)` : "";
  const way = mean_m >= 0 ? "ahead of" : "behind";
  return `${other} lies ${Math.abs(mean_m).toFixed(1)} ± ${sd_m.toFixed(1)} m ${way} ${one} along the bank${range} by what they read (correlation ${likeness.toFixed(2)} over ${overlap_m.toFixed(0)} m)`;
}

const least = (values: readonly number[]) => Math.min(...values).toFixed(1);
const greatest = (values: readonly number[]) => Math.max(...values).toFixed(1);

function fate(found: PassShift, from: "readings" | "left"): string {
  if (!isApart({ found })) return "; that is not clear enough to move them";
  return from === "readings"
    ? "; they are brought to their middle"
    : '; passShift_m: "correct" would bring them to their middle';
}

/** The passes against each other; no table where none were compared. */
export function togetherTables(placements: readonly CampaignPlacement[]): readonly Table[] {
  const rows = placements.flatMap(({ campaign, together }) =>
    together.pairs
      .filter(({ found }) => found !== "no overlap" && found !== "other line")
      .map((pair) => ({
        campaign,
        one: pair.one,
        other: pair.other,
        ...cells(pair, together.from),
      })),
  );
  if (rows.length === 0) return [];
  return [
    {
      id: "passes-together",
      caption:
        "The passes against each other: how far the second lies ahead of the first along the bank, by what both read.",
      columns: [
        { field: "campaign", label: "Campaign" },
        { field: "one", label: "First pass" },
        { field: "other", label: "Second pass" },
        { field: "shift_m", label: "Second ahead by (m)", digits: 2 },
        { field: "sd_m", label: "± (m)", digits: 2 },
        { field: "likeness", label: "Correlation", digits: 2 },
        { field: "overlap_m", label: "Over (m)", digits: 0 },
        { field: "fate", label: "What becomes of it" },
      ],
      rows,
    },
  ];
}

function cells({ found }: PassPair, from: "readings" | "given" | "left") {
  if (typeof found === "string") {
    const nothing = { shift_m: null, sd_m: null, likeness: null, overlap_m: null };
    return { ...nothing, fate: `not told: ${REASONS[found].text}` };
  }
  const { mean_m, sd_m, likeness, overlap_m } = found;
  const fate = !isApart({ found })
    ? "left: not clearly apart"
    : from === "readings"
      ? "brought to their middle"
      : "left as they are";
  return { shift_m: mean_m, sd_m, likeness, overlap_m, fate };
}

export function togetherBasis({ passShift_m }: PlaceOptions): readonly Basis[] {
  if (passShift_m !== "correct") return [];
  return [
    {
      statement: `Passes of a campaign that lie apart along the bank by what they read, by ${LEAST_APART_M} m and four standard deviations, are brought to their middle.`,
      source:
        "common practice; uncertainty by the scatter of 25 m blocks (White 1982, Econometrica 50, 1–25)",
    },
  ];
}
