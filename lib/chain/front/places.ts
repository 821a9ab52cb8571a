import type { Findings, OfLine } from "../findings.js";

interface CampaignStretch extends OfLine {
  readonly campaign: string;
  readonly from_m: number;
  readonly to_m: number;
}

/** Stretches of one line, in any campaigns, that overlap: one place on the bank. */
export interface Place<Stretch extends CampaignStretch> extends OfLine {
  readonly from_m: number;
  readonly to_m: number;
  readonly stretches: readonly [Stretch, ...Stretch[]];
}

/** Stretches of all campaigns as places, each counted once, along the bank. */
export function placesOf<Stretch extends CampaignStretch>(
  stretches: readonly Stretch[],
): readonly Place<Stretch>[] {
  const places: Place<Stretch>[] = [];
  for (const stretch of stretches.toSorted((one, other) => one.from_m - other.from_m)) {
    const at = places.findIndex(
      ({ line, to_m }) => line === stretch.line && stretch.from_m <= to_m,
    );
    const found = places[at];
    const { from_m, to_m, line } = stretch;
    if (found === undefined) {
      places.push({ ...(line !== undefined && { line }), from_m, to_m, stretches: [stretch] });
    } else {
      const stretches = [...found.stretches, stretch] as const;
      places[at] = { ...found, to_m: Math.max(found.to_m, to_m), stretches };
    }
  }
  return places;
}

type SetAside = Findings["setAside"][number];

/** Whether no note explains a place that the readings show, in any campaign. */
export const isUnexplained = ({ stretches }: Place<SetAside>) =>
  stretches.every(({ cause, object }) => cause === "detected" && object === "");

/** The campaigns that a place was seen in, each once. */
export const campaignsOf = ({ stretches }: Place<CampaignStretch>) => [
  ...new Set(stretches.map(({ campaign }) => campaign).toSorted()),
];

/** Findings of the line that was walked alone, or of the main one of several. */
export function ofMainLine<Finding extends OfLine>(
  findings: readonly Finding[],
): readonly Finding[] {
  return findings.filter(({ line }) => line === findings[0]?.line);
}
