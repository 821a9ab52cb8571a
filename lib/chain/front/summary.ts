import { countText } from "../../step/show/html.js";
import type { Findings } from "../findings.js";
import { isUneven } from "../links/uneven-blocks.js";
import { isUnexplained, type Place, placesOf } from "./places.js";

interface Stretch {
  readonly from_m: number;
  readonly to_m: number;
}

const stretchText = ({ from_m, to_m }: Stretch) => `${from_m.toFixed(0)}–${to_m.toFixed(0)} m`;

/**
 * Where the owner looks first, in a line: length, blocks and kinds of ground and how many blocks are
 * not of one make, what changed between campaigns, and the first seepage zone.
 *
 * @param findings - as `gatherFindings` gives them, or read from findings.json.
 * @example headline(gatherFindings(work).value).startsWith("Sedgeholm Bank, 2.4 km: 9 blocks"); // true
 */
export function headline(findings: Findings): string {
  const { survey, blocks, seepage } = findings;
  const [first] = seepage;
  const parts = [
    makeText(blocks),
    ...(survey.campaigns.length > 1 ? [changedText(findings)] : []),
    first === undefined
      ? "no stretch stands out for seepage"
      : `first to look at for seepage: ${stretchText(first)} (${bandText(first)})`,
  ];
  const length = `${(survey.length_m / 1000).toFixed(1)} km`;
  return `${survey.embankment}, ${length}: ${parts.join("; ")}`;
}

const bandText = ({ band, disturbed }: Findings["seepage"][number]) =>
  disturbed ? `${band}, on disturbed readings` : band;

function makeText(blocks: Findings["blocks"]): string {
  if (blocks.length === 0) return "not cut into blocks, since no depth slice was found";
  const classes = new Set(blocks.map((block) => block.class)).size;
  return `${countText(blocks.length, "block")} of ${countText(classes, "kind")} of ground${unevenText(blocks)}`;
}

/** A block whose ground changes along it is no ground of one make. */
function unevenText(blocks: Findings["blocks"]): string {
  const uneven = blocks.filter(isUneven).length;
  if (uneven === 0) return "";
  return blocks.length === 1 ? ", not of one make" : `, ${uneven} of them not of one make`;
}

/** A pair that can be compared on less than this is not said to show no change, %. */
const LEAST_COMPARED_PCT = 50;

/** No change is said of campaigns that show it, not of ones that could not be compared. */
function changedText({ changes, compared = [] }: Findings): string {
  if (changes.length === 0) {
    const unknown_pct = Math.min(...compared.map((pair) => pair.unknown_pct));
    if (!(unknown_pct > LEAST_COMPARED_PCT) || compared.length === 0) {
      return "no change found between campaigns";
    }
    return unknown_pct >= 99.5
      ? "change between campaigns unknown"
      : `change between campaigns unknown on ${unknown_pct.toFixed(0)} % of the bank, none found on the rest`;
  }
  if (changes.length > 3) return `${changes.length} stretches changed between campaigns`;
  return `changed between campaigns: ${changes.map(stretchText).join(", ")}`;
}

/** Noise is not taken for metal in words, though its readings go the same way. */
function noiseText(places: readonly Place<Findings["setAside"][number]>[]): string {
  const noisy = places.filter(
    (place) => isUnexplained(place) && place.stretches.every(({ jumps }) => jumps),
  ).length;
  if (noisy === 0) return "";
  return ` At ${noisy} of these the readings jump one by one, as noise does.`;
}

/** What the survey comes to, in sentences; each object counts once, however often it was walked. */
export function findingsSummary(findings: Findings): string {
  const { boreholes } = findings;
  const metal = placesOf(findings.setAside);
  const unexplained = metal.filter(isUnexplained).length;
  const sentences = [
    `${headline(findings)}.`,
    metal.length === 0
      ? "No readings were set aside for metal or structures."
      : `Metal or structures disturb the readings at ${countText(metal.length, "place")}` +
        (unexplained === 0
          ? ", all noted in the field."
          : `; ${unexplained} of them no note explains.${noiseText(metal)}`),
    boreholes.length === 0
      ? "No boreholes are proposed."
      : `${countText(boreholes.length, "borehole")} proposed, the first at ` +
        `${(boreholes[0]?.chainage_m ?? Number.NaN).toFixed(0)} m.`,
  ];
  return sentences.join(" ");
}
