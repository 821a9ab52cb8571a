import type { Findings, OfLine, RobustnessFinding } from "../../chain/findings.js";
import { campaignsOf, isUnexplained, placesOf } from "../../chain/front/places.js";
import { countText } from "../../step/show/html.js";
import type { Claim, ClaimKind } from "./claim.js";

/**
 * What an appendix claims, one by one, in the order of the work: each block, each place set aside
 * for metal (once over all campaigns), each change, section, seepage zone and proposed borehole,
 * with its evidence and what alternatives do to it.
 *
 * @param findings the content of findings.json
 */
export function appendixClaims(findings: Findings): readonly Claim[] {
  return distinct([
    ...findings.blocks.map((block) => blockClaim(block, findings)),
    ...placesOf(findings.setAside).map((place) => metalClaim(place, findings)),
    ...findings.changes.map((change) => changeClaim(change, findings)),
    ...findings.sections.map((section) => sectionClaim(section, findings)),
    ...findings.seepage.map((zone) => seepageClaim(zone, findings)),
    ...findings.boreholes.map((hole) => boreholeClaim(hole, findings)),
  ]);
}

/** Claims of one name, such as a line's sections of several campaigns, are numbered. */
function distinct(claims: readonly Claim[]): readonly Claim[] {
  return claims.map((claim, i) => {
    const before = claims.slice(0, i).filter(({ id }) => id === claim.id).length;
    return before === 0 ? claim : { ...claim, id: `${claim.id} (${before + 1})` };
  });
}

type Of<Name extends keyof Findings> = Findings[Name] extends readonly (infer One)[] ? One : never;

const ofLine = ({ line }: OfLine) => (line === undefined ? {} : { line });
const onLine = ({ line }: OfLine) => (line === undefined ? "" : `line ${line}, `);
const stretch = (from_m: number, to_m: number) => `${from_m.toFixed(0)}–${to_m.toFixed(0)} m`;
const short = (value: number) => Number(value.toPrecision(3));
const ends = ([low, high]: readonly [number, number]) =>
  `${low.toFixed(0)} to ${high.toFixed(0)} m`;

function blockClaim(block: Of<"blocks">, findings: Findings): Claim {
  const { id, from_m, to_m, resistivity_ohm_m: slices } = block;
  const numbers = slices.map(({ top_m, base_m, p10, p90 }) => ({
    name: `ohm-m at ${top_m}–${base_m} m`,
    low: p10,
    high: p90,
  }));
  const medians = slices.map(
    ({ top_m, base_m, median, p10, p90 }) =>
      `${short(median)} ohm-m at ${top_m}–${base_m} m (${short(p10)} to ${short(p90)})`,
  );
  return {
    ...ofLine(block),
    id: `${onLine(block)}block ${id}`,
    kind: "make of bank",
    ...{ from_m, to_m, word: "", numbers },
    statement: `${stretch(from_m, to_m)} is of one make, class ${block.class}: ${medians.join(", ")}.`,
    evidence:
      `${countText(block.readings, "reading")} in use; it begins within ` +
      `${ends(block.fromInterval_m)} and ends within ${ends(block.toInterval_m)} (80 %).`,
    alternatives: alternatives("make of bank", findings),
  };
}

function metalClaim(
  place: ReturnType<typeof placesOf<Of<"setAside">>>[number],
  findings: Findings,
) {
  const { from_m, to_m, stretches } = place;
  const objects = [...new Set(stretches.map(({ object }) => object).filter((one) => one !== ""))];
  const what = isUnexplained(place) ? "which no note explains" : objects.join(", ");
  const readings = stretches.reduce((sum, one) => sum + one.readings, 0);
  const causes = [...new Set(stretches.map(({ cause }) => cause))].join(", ");
  return {
    ...ofLine(place),
    id: `${onLine(place)}metal ${stretch(from_m, to_m)}`,
    kind: "metal",
    ...{ from_m, to_m, numbers: [] },
    word: isUnexplained(place) ? "not explained" : "explained by a note",
    statement: `${stretch(from_m, to_m)} is set aside: metal or a structure, ${what}.`,
    evidence: `${countText(readings, "reading")} of ${campaignsOf(place).join(", ")} (${causes}).`,
    alternatives: alternatives("metal", findings),
  } satisfies Claim;
}

function changeClaim(change: Of<"changes">, findings: Findings): Claim {
  const { from_m, to_m, earlier, later, direction, ratio, ratioInterval, q, slices } = change;
  const interval =
    ratioInterval === undefined ? "" : ` (${ratioInterval.map(short).join(" to ")}, 90 %)`;
  const between = `${earlier} and ${later}`;
  return {
    ...ofLine(change),
    id: `${onLine(change)}change ${stretch(from_m, to_m)} between ${between}`,
    kind: "change",
    ...{ from_m, to_m, word: direction },
    numbers: ratioInterval
      ? [{ name: "times as resistive", low: ratioInterval[0], high: ratioInterval[1] }]
      : [],
    statement: `Between ${between} resistivity ${direction} at ${stretch(from_m, to_m)}, to ${short(ratio)} times${interval}.`,
    evidence: `q ${q.toPrecision(2)}; it stands out at ${slices.join(", ")} m.`,
    alternatives: alternatives("change", findings),
  };
}

function sectionClaim(section: Of<"sections">, findings: Findings): Claim {
  const { line, readings, rejected, rms, reliableTo_m } = section;
  return {
    id: `section ${line}`,
    kind: "resistivity section",
    ...{ from_m: null, to_m: null, word: line, numbers: [] },
    statement: `The section under line ${line} may be read to ${short(reliableTo_m)} m.`,
    evidence: `${countText(readings, "reading")}, ${rejected} rejected; normalised misfit ${short(rms)}.`,
    alternatives: alternatives("resistivity section", findings),
  };
}

function seepageClaim(zone: Of<"seepage">, findings: Findings): Claim {
  const { rank, from_m, to_m, band, probability, evidence } = zone;
  const speaking = evidence.filter(({ weight }) => weight !== 0);
  return {
    id: `seepage zone ${rank}`,
    kind: "seepage",
    ...{ from_m, to_m, word: band, numbers: [] },
    statement: `${stretch(from_m, to_m)} gathers evidence for a seepage path: ${band}, probability ${probability.toFixed(2)} under the weights.`,
    evidence: speaking.map(({ statement }) => statement).join(" "),
    alternatives: alternatives("seepage", findings),
  };
}

function boreholeClaim(hole: Of<"boreholes">, findings: Findings): Claim {
  const { id, chainage_m, depth_m, purpose, reason, lostUnder = [] } = hole;
  return {
    id: `borehole ${id}`,
    kind: "borehole",
    ...{ from_m: chainage_m, to_m: chainage_m, word: "", numbers: [] },
    statement: `A borehole of ${depth_m} m is worth its cost at ${chainage_m.toFixed(0)} m: ${purpose}.`,
    evidence: reason,
    alternatives: [
      ...alternatives("borehole", findings),
      ...lostUnder.map((decision) => `${decision}: ${id} is not proposed.`),
    ],
  };
}

/** How the sentences of robustness begin that tell of each kind. */
const beginnings: Readonly<Record<ClaimKind, RegExp>> = {
  "make of bank": /^(?:Blocks\b|\d+ blocks?\b|Slices\b)/,
  metal: /set aside/i,
  change: /^Changes\b/,
  "resistivity section": /^[Ss]ections?\b|\bsection\b/,
  seepage: /\b[Ss]eepage zones?\b/,
  // Of holes, robustness names the lost ones themselves.
  borehole: /^(?!)/,
};

function alternatives(kind: ClaimKind, { robustness }: Findings): readonly string[] {
  return robustness.flatMap((row) => {
    const told = sentences(row.effect).filter((sentence) => beginnings[kind].test(sentence));
    return told.length === 0 ? [] : [`${decided(row)}: ${told.join(" ")}`];
  });
}

const decided = ({ decision, chosen, alternative }: RobustnessFinding) =>
  `${decision} = ${alternative} instead of ${chosen}`;

const sentences = (text: string) => text.split(/(?<=\.) (?=\p{Lu})/u);
