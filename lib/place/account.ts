import type { Accounting } from "../step/account.js";
import type { StepReport } from "../step/define-step.js";
import { countText } from "../step/show/html.js";
import type { Basis } from "../step/step-account.js";
import { accountFor } from "../survey/account/reading-status.js";
import { campaignsOfAllLines } from "../survey/all-lines.js";
import type { Survey } from "../survey/survey.js";
import { placementCautions } from "./cautions.js";
import { coregistrationBasis } from "./coregister/account.js";
import { coverageOf } from "./coverage/coverage.js";
import { coverageFigure } from "./coverage/coverage-figure.js";
import { lineCautions, lineTables } from "./lines/account.js";
import type { PlaceOptions } from "./options.js";
import type { CampaignPlacement } from "./place-campaign.js";
import type { PlacedSurvey } from "./place-survey.js";
import { placementTables } from "./tables.js";
import { WALKING } from "./walk/walk-smoother.js";

/** The account of `placeReadings`. */
export function placeReport(
  { survey, placements, lines }: PlacedSurvey,
  used: PlaceOptions,
): StepReport<Survey> {
  const accounting = accountFor(campaignsOfAllLines(survey));
  const coverage = coverageOf(survey, placements);
  return {
    value: survey,
    summary: placeSummary(accounting, placements),
    basis: placementBasis(used),
    cautions: [
      ...lineCautions(lines),
      ...placements.flatMap((placement) => placementCautions(placement, used)),
    ],
    accounting,
    figures: coverage.length > 0 ? [coverageFigure(coverage)] : [],
    tables: [...lineTables(lines), ...placementTables(placements)],
  };
}

function placeSummary({ readings }: Accounting, placements: readonly CampaignPlacement[]): string {
  const passes = placements.flatMap((placement) => placement.passes);
  const withPlace = passes.reduce(
    (sum, one) => sum - one.readings + one.positions + one.bridged,
    readings,
  );
  const moved = placements.filter(({ coregistration }) =>
    coregistration.moved_m.some((by) => by !== 0),
  );
  const labels = moved.map(({ campaign }) => campaign).join(", ");
  const apart = moved.length === 0 ? "" : ` Passes of ${labels} lay apart and were co-registered.`;
  const count = countText(passes.length, "pass", "passes");
  const placed = `${countText(withPlace, "reading")} of ${count} have their chainage.`;
  return `${placed}${bridgedText(placements)}${apart}`;
}

/** " The positions of 84 readings were bridged by time." or nothing, for the summary. */
export function bridgedText(placements: readonly CampaignPlacement[]): string {
  const passes = placements.flatMap((placement) => placement.passes);
  const bridged = passes.reduce((sum, pass) => sum + pass.bridged, 0);
  if (bridged === 0) return "";
  const [positions, were] = bridged === 1 ? ["position", "was"] : ["positions", "were"];
  return ` The ${positions} of ${countText(bridged, "reading")} ${were} bridged by time.`;
}

export function placementBasis(used: PlaceOptions): readonly Basis[] {
  const { speedSd_m_per_s, keeps_s } = WALKING;
  const smoothing: Basis = {
    statement:
      `Positions are smoothed as those of a walker whose speed has a spread of ` +
      `${speedSd_m_per_s} m/s and keeps for about ${keeps_s} s; positions far off the walk weigh ` +
      "little.",
    source:
      "Rauch, Tung & Striebel 1965, AIAA Journal 3, 1445–1450; weights after Lange, Little & " +
      "Taylor 1989, Journal of the American Statistical Association 84, 881–896",
  };
  const bridging: Basis = {
    statement:
      `Gaps in the positions of up to ${used.bridgeUpTo_m} m and ${used.bridgeUpTo_s} s are ` +
      "bridged in proportion to time; how far that may be off is measured on the same walk.",
    source: "common practice",
  };
  return [
    ...(used.jitter === "smooth" ? [smoothing] : []),
    ...(used.bridgeUpTo_m > 0 ? [bridging] : []),
    ...coregistrationBasis(used),
  ];
}
