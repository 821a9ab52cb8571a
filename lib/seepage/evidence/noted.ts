import type { Blocks } from "../../blocks/blocks.js";
import type { Incident, Survey } from "../../survey/survey.js";
import { type Cells, type Presence, type Stretch, unknownPiece } from "./piece.js";

const SEEPAGE_WORDS = /boil|wet|seep|leak|piping|spring|sand cone/i;

/** Those of water or sand coming out. */
export function wetIncidents(incidents: readonly Incident[]): readonly Incident[] {
  return incidents.filter((entry) => SEEPAGE_WORDS.test(`${entry.kind} ${entry.text}`));
}

/**
 * Nearness to a recorded incident of water or sand coming out, fading over `reach_m`. Where none is
 * recorded the ground is not known to be without: nobody may have looked.
 */
export function recordedIncident(
  cells: Cells,
  incidents: readonly Incident[],
  reach_m: number,
): Presence {
  const wet = wetIncidents(incidents);
  if (wet.length === 0) {
    return unknownPiece(cells, "recorded incident", "Not known: no incident of water is recorded.");
  }
  const value = cells.chainage_m.map((x) => {
    const nearest = Math.max(...wet.map((entry) => fading(x - entry.chainage_m, reach_m)));
    return nearest > 0 ? nearest : Number.NaN;
  });
  return {
    name: "recorded incident",
    value,
    source: "the survey's list of incidents",
    statement: (_, { from_m, to_m }) => {
      const list = wet
        .filter(({ chainage_m: x }) => x >= from_m - 3 * reach_m && x <= to_m + 3 * reach_m)
        .map((entry) => `${entry.kind} at ${entry.chainage_m.toFixed(0)} m (${entry.date})`);
      return `Recorded: ${list.join(", ")}.`;
    },
    unknown: "None is recorded nearby, which does not mean that none happened.",
  };
}

function fading(distance_m: number, reach_m: number): number {
  const reaches = Math.abs(distance_m) / reach_m;
  return reaches < 3 ? Math.exp(-(reaches ** 2)) : 0;
}

const THROUGH_WORDS = /culvert|pipe|sluice|gate|outfall|duct|drain/i;

/** Where something goes through the bank, or two makes of it meet. */
export function crossingOrBoundary(
  cells: Cells,
  { survey, blocks }: { readonly survey: Survey; readonly blocks: Blocks | null },
  reach_m: { readonly structure: number; readonly boundary: number },
): Presence {
  const noted = survey.fieldNotes
    .filter((note) => note.kind === "structure" || THROUGH_WORDS.test(note.object))
    .map(({ object, from_m, to_m }) => ({
      ...{ from_m: from_m - reach_m.structure, to_m: to_m + reach_m.structure },
      text: `${object} at ${from_m.toFixed(0)} m`,
    }));
  const met = (blocks?.blocks.slice(1) ?? []).map(({ from_m, fromInterval_m: [low, high] }) => ({
    ...{ from_m: low - reach_m.boundary, to_m: high + reach_m.boundary },
    text: `two makes of bank meet at about ${from_m.toFixed(0)} m`,
  }));
  const places = [...noted, ...met];
  const known = blocks !== null || survey.fieldNotes.length > 0;
  const isIn = (x: number) => places.some(({ from_m, to_m }) => x >= from_m && x <= to_m);
  return {
    name: "crossing or boundary",
    value: cells.chainage_m.map((x) => (isIn(x) ? 1 : known ? 0 : Number.NaN)),
    source: "field notes, and the blocks' boundaries with their intervals",
    statement: (share, stretch) =>
      share > 0
        ? `Here: ${textOf(places, stretch)}.`
        : "No noted structure through the bank, and inside one make of it.",
    unknown: "Not known: no field notes and no blocks.",
  };
}

function textOf(places: readonly (Stretch & { text: string })[], stretch: Stretch): string {
  return places
    .filter(({ from_m, to_m }) => to_m >= stretch.from_m && from_m <= stretch.to_m)
    .map(({ text }) => text)
    .join(", ");
}
