import type { Accounting } from "../step/account.js";
import type { StepReport } from "../step/define-step.js";
import type { Basis } from "../step/step-account.js";
import { accountFor } from "../survey/account/reading-status.js";
import type { Survey } from "../survey/survey.js";
import { togetherBasis, togetherCautions } from "./coregister/report.js";
import { coverageOf } from "./coverage/coverage.js";
import { coverageFigure } from "./coverage/coverage-figure.js";
import type { PlaceOptions } from "./options.js";
import type { CampaignPlacement } from "./place-campaign.js";
import type { PlacedSurvey } from "./place-survey.js";
import { placementTables } from "./tables.js";
import type { PassPlacement } from "./walk/finish-pass.js";
import { isBelievable, type PegCheck } from "./walk/pegs.js";
import { WALKING } from "./walk/walk-smoother.js";

/** What `placeReadings` says of itself. */
export function placeReport(
  { survey, placements }: PlacedSurvey,
  used: PlaceOptions,
): StepReport<Survey> {
  const accounting = accountFor(survey.campaigns);
  const coverage = coverageOf(survey, placements);
  return {
    value: survey,
    summary: placeSummary(accounting, placements),
    basis: placementBasis(used),
    cautions: placements.flatMap((placement) => placementCautions(placement, used)),
    accounting,
    figures: coverage.length > 0 ? [coverageFigure(coverage)] : [],
    tables: placementTables(placements),
  };
}

function placeSummary({ readings }: Accounting, placements: readonly CampaignPlacement[]): string {
  const passes = placements.flatMap((placement) => placement.passes);
  const without = placements.reduce((sum, one) => sum + withoutPlace(one), 0);
  const moved = placements.filter(({ together }) => together.moved_m.some((by) => by !== 0));
  const labels = moved.map(({ campaign }) => campaign).join(", ");
  const placed = `${counted(readings - without, "reading")} of ${counted(passes.length, "pass", "passes")} have their chainage.`;
  const apart = moved.length === 0 ? "" : ` Passes of ${labels} lay apart and were co-registered.`;
  return `${placed}${bridgedText(placements)}${apart}`;
}

/** Readings that no position and no bridge gives a place. */
function withoutPlace({ passes }: CampaignPlacement): number {
  return passes.reduce(
    (sum, { readings, positions, bridged }) => sum + readings - positions - bridged,
    0,
  );
}

/** " The positions of 84 readings were bridged by time." or nothing, for the summary. */
export function bridgedText(placements: readonly CampaignPlacement[]): string {
  const passes = placements.flatMap((placement) => placement.passes);
  const bridged = passes.reduce((sum, pass) => sum + pass.bridged, 0);
  if (bridged === 0) return "";
  return ` The position${bridged === 1 ? "" : "s"} of ${counted(bridged, "reading")} ${bridged === 1 ? "was" : "were"} bridged by time.`;
}

/** What there is to know of the positions before they are relied on. */
export function placementCautions(
  placement: CampaignPlacement,
  used: PlaceOptions,
): readonly string[] {
  const { campaign, passes } = placement;
  const parts = passes.flatMap((pass) => passCautions(pass, used));
  return [
    ...parts.map((text) => `${campaign}, ${text}`),
    ...lagCautions(placement, used),
    ...togetherCautions(placement, used),
    ...pegCautions(placement),
  ];
}

function passCautions(pass: PassPlacement, used: PlaceOptions): readonly string[] {
  const { file, gaps, bridged, spikes, stood, stoodKept, sameAgain, stepsBack, stepsBack_m } = pass;
  const texts: string[] = [];
  if (bridged > 0) {
    const filled = gaps.filter(({ isBridged }) => isBridged);
    const longest_m = Math.max(...filled.map(({ from_m, to_m }) => Math.abs(to_m - from_m)));
    texts.push(
      `${file}: ${counted(bridged, "reading")} without a position ${bridged === 1 ? "lies" : "lie"} in ${counted(filled.length, "gap")} of up to ${longest_m.toFixed(0)} m; their chainage is bridged by time (limits ${used.bridgeUpTo_m} m and ${used.bridgeUpTo_s} s) and less sure.`,
    );
  }
  if (spikes > 0) {
    texts.push(
      `${file}: ${counted(spikes, "position")} far off the walk ${spikes === 1 ? "is" : "are"} replaced by the smoothed one.`,
    );
  }
  if (stood > 0) {
    texts.push(
      `${file}: ${counted(stood, "reading")} made while standing still became ${stoodKept} by averaging.`,
    );
  }
  if (sameAgain > 0) {
    texts.push(
      `${file}: ${counted(sameAgain, "row")} repeat${sameAgain === 1 ? "s" : ""} the row before in everything and ${sameAgain === 1 ? "is" : "are"} set aside.`,
    );
  }
  if (stepsBack > 0) {
    texts.push(
      `${file}: ${counted(stepsBack, "stretch", "stretches")} walked backwards, ${stepsBack_m.toFixed(0)} m in all; the readings stand where they were made.`,
    );
  }
  return texts;
}

function lagCautions(placement: CampaignPlacement, { timeLag_s }: PlaceOptions): readonly string[] {
  const { campaign, lag_s, lagFrom, likeness } = placement;
  if (timeLag_s !== "estimate") return [];
  if (lagFrom === "not found") {
    return [
      `${campaign}: no time lag could be found: it takes 50 m walked in both directions, or two timed pegs in each; none is applied.`,
    ];
  }
  const from =
    lagFrom === "pegs"
      ? "from pegs passed in both directions"
      : `from passes in opposite directions (correlation ${likeness.toFixed(2)})`;
  return [
    `${campaign}: the readings are taken to be ${lag_s.toFixed(2)} s late, ${from}; at a steady pace an antenna ahead of the coils looks the same.`,
  ];
}

/** Pegs that agree within this, m, need no word. */
const AGREES_M = 3;

function pegCautions({ campaign, pegs, pegsUsed }: CampaignPlacement): readonly string[] {
  const off = (peg: PegCheck) => Math.abs(peg.stated_m - peg.measured_m);
  const wild = pegs.filter((peg) => !isBelievable(peg));
  const texts = wild.map(
    (peg) =>
      `${campaign}: the peg "${peg.object}" says ${peg.stated_m.toFixed(1)} m and lies at ${peg.measured_m.toFixed(1)} m; it is not believed.`,
  );
  const sound = pegs.filter(isBelievable);
  const worst = sound.toSorted((a, b) => off(b) - off(a))[0];
  if (pegsUsed) {
    return [
      ...texts,
      `${campaign}: chainages are brought to ${counted(sound.length, "peg")}, by up to ${off(worst!).toFixed(1)} m.`,
    ];
  }
  if (worst === undefined || off(worst) <= AGREES_M) return texts;
  return [
    ...texts,
    `${campaign}: the chainages found differ from ${counted(sound.length, "peg")} by up to ${off(worst).toFixed(1)} m (${worst.object} at ${worst.stated_m.toFixed(1)} m); pegs: "correct" would bring them there.`,
  ];
}

export function placementBasis(used: PlaceOptions): readonly Basis[] {
  const statements: Basis[] = [];
  if (used.jitter === "smooth") {
    const { speedSd_m_per_s, keeps_s } = WALKING;
    statements.push({
      statement: `Positions are smoothed as those of a walker whose speed has a spread of ${speedSd_m_per_s} m/s and keeps for about ${keeps_s} s; positions far off the walk weigh little.`,
      source:
        "Rauch, Tung & Striebel 1965, AIAA Journal 3, 1445–1450; weights after Lange, Little & Taylor 1989, Journal of the American Statistical Association 84, 881–896",
    });
  }
  if (used.bridgeUpTo_m > 0) {
    statements.push({
      statement: `Gaps in the positions of up to ${used.bridgeUpTo_m} m and ${used.bridgeUpTo_s} s are bridged in proportion to time; how far that may be off is measured on the same walk.`,
      source: "common practice",
    });
  }
  return [...statements, ...togetherBasis(used)];
}

function counted(n: number, one: string, many = `${one}s`): string {
  return `${n.toLocaleString("en")} ${n === 1 ? one : many}`;
}
