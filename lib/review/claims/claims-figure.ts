import { type StripRow, stripSpec } from "../../figures/strip/strip.js";
import { figureWidth_px } from "../../figures/theme.js";
import { groupedBy } from "../../numerics/arrays.js";
import { extent } from "../../numerics/statistics/present.js";
import type { Figure } from "../../step/figure.js";
import type { ClaimPair, ClaimPlace } from "./claim.js";
import { claimsText } from "./compare-claims.js";

const OUTCOMES: Readonly<Record<ClaimPair["outcome"], string>> = Object.freeze({
  both: "said by both",
  altered: "altered",
  "only here": "only in this one",
  "only there": "only in the other",
});

const COLOURS: Readonly<Record<string, string>> = Object.freeze({
  [OUTCOMES.both]: "#b3b7bb",
  [OUTCOMES.altered]: "#222426",
  [OUTCOMES["only here"]]: "#1f5a8c",
  [OUTCOMES["only there"]]: "#c9822b",
});

/** What is narrower is drawn this wide about its middle, px. */
const LEAST_PX = 4;

/**
 * Claims of two appendices along the bank: for each kind and line a row of this appendix over one of
 * the other.
 *
 * @param pairs what `compareClaims` gave
 * @returns a figure, chainages in m; null where no claim has a place
 * @example claimsFigure([]) // null
 */
export function claimsFigure(pairs: readonly ClaimPair[]): Figure | null {
  const placed = pairs.flatMap(sidesOf);
  if (placed.length === 0) return null;
  const { least, most } = extent(placed.flatMap(({ place }) => [place.from_m, place.to_m]));
  const half_m = (LEAST_PX * (most - least)) / (2 * figureWidth_px);
  const rows = [...groupedBy(placed, ({ about }) => about)].flatMap(([about, all]) =>
    SIDES.map((side): StripRow => {
      const own = all.filter((one) => one.side === side);
      return {
        name: `${about}, ${side}`,
        stretches: own.map(({ place, group }) => ({ ...atLeastSeen(place, half_m), group })),
      };
    }),
  );
  return {
    id: "claims-beside",
    title: claimsText(pairs),
    caption:
      "Which stretch each appendix says something of, two rows a kind. Claims without a place " +
      "along the bank stand in the table alone.",
    spec: stripSpec({
      title: claimsText(pairs),
      panels: [{ kind: "rows", label: "", rows, legend: "A claim is", colours: COLOURS }],
    }),
  };
}

const SIDES = ["this one", "the other"] as const;

function sidesOf({ kind, outcome, places }: ClaimPair) {
  return SIDES.flatMap((side) => {
    const place = side === "this one" ? places.here : places.there;
    if (place === null) return [];
    const about = place.line === undefined ? kind : `${kind} (${place.line})`;
    return { side, about, place, group: OUTCOMES[outcome] };
  });
}

function atLeastSeen({ from_m, to_m }: ClaimPlace, half_m: number) {
  const middle_m = (from_m + to_m) / 2;
  return { from_m: Math.min(from_m, middle_m - half_m), to_m: Math.max(to_m, middle_m + half_m) };
}
