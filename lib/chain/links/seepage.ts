import { disturbedZones, disturbedZonesText } from "../../seepage/disturbed-zones.js";
import type { Quantiles, StretchHydraulics } from "../../seepage/hydraulics/judged-stretch.js";
import { scoreSeepage, seepageStep } from "../../seepage/score-seepage.js";
import type { SeepageZone } from "../../seepage/seepage.js";
import { countText } from "../../step/show/html.js";
import type { Survey } from "../../survey/survey.js";
import { chainage, significant } from "../digits.js";
import type { SeepageFinding } from "../findings.js";
import { ask, type Link, type Readiness } from "../link.js";
import { lostStretches, survival, zoneName } from "../robustness/survival.js";
import { referenceOf, surveyOf, type Work } from "../work.js";
import { allOf } from "./lacking.js";

export const seepageLink: Link = {
  step: seepageStep,
  gives: "seepage",
  takes: ["survey", "placed", "reference", "blocks", "changes", "head", "otherLines", "sections"],
  run: (work, decided) => {
    const { blocks, changes, head = null, sections = [] } = work;
    const otherLines = work.otherLines?.value ?? [];
    const evidence = { survey: surveyOf(work), slices: referenceOf(work), blocks, changes };
    return ask(scoreSeepage, { ...evidence, head, sections, otherLines }, decided);
  },
  readiness: { step: "seepage", of: readiness },
  findings: (work) => {
    const { zones } = work.seepage.value;
    const disturbed = disturbedZones(zones, referenceOf(work).value);
    return {
      seepage: zones.map((zone) => ({
        ...seepageFinding(zone, work),
        ...(disturbed.includes(zone) ? { disturbed: true as const } : {}),
      })),
    };
  },
  unanswered: (work) => {
    const text = disturbedZonesText(work.seepage.value.zones, referenceOf(work).value);
    return text === null ? [] : [text];
  },
  effect: (before, after) => {
    const [was, is] = [zonesText(before), zonesText(after)];
    return was === is ? null : `First seepage zones: ${is}, instead of ${was}.`;
  },
  names: ({ seepage }) => seepage.value.zones.map(zoneName),
  lost: (before, after) =>
    lostStretches(
      { before: before.seepage.value.zones, after: after.seepage.value.zones },
      zoneName,
      (one, other) => one.band === other.band,
    ),
};

/** The first three zones by rank. */
function zonesText({ seepage }: Work): string {
  const { zones } = seepage.value;
  if (zones.length === 0) return "none";
  return zones
    .slice(0, 3)
    .map(({ from_m, to_m, band }) => `${from_m.toFixed(0)}–${to_m.toFixed(0)} m (${band})`)
    .join(", ");
}

function seepageFinding(zone: SeepageZone, work: Work): SeepageFinding {
  const { exitGradient, gradientWhy, hydraulics } = zone;
  return {
    rank: zone.rank,
    from_m: chainage(zone.from_m),
    to_m: chainage(zone.to_m),
    score: significant(zone.score),
    probability: significant(zone.probability),
    band: zone.band,
    rankRange: zone.rankRange,
    bandKept: significant(zone.bandKept),
    evidence: zone.evidence.map((piece) => ({
      name: piece.name,
      weight: significant(piece.weight),
      value: piece.value === null ? null : significant(piece.value),
      statement: piece.statement,
      source: piece.source,
    })),
    exitGradient: exitGradient && rounded(exitGradient),
    gradientWhy,
    hydraulics: hydraulics && hydraulicFinding(hydraulics),
    ...survival(work, zoneName(zone)),
  };
}

function hydraulicFinding(found: StretchHydraulics): StretchHydraulics {
  const { creep, shares } = found;
  return {
    head_m: significant(found.head_m),
    baseWidth_m: significant(found.baseWidth_m),
    exitGradient: rounded(found.exitGradient),
    safety: rounded(found.safety),
    erosionSafety: rounded(found.erosionSafety),
    creep: { lane: significant(creep.lane), bligh: significant(creep.bligh) },
    blanket_m: rounded(found.blanket_m),
    aquifer_m: rounded(found.aquifer_m),
    shares: shares.map(({ input, share }) => ({ input, share: significant(share) })),
    told: significant(found.told),
    sources: found.sources,
  };
}

const rounded = ({ p10, p50, p90 }: Quantiles): Quantiles => ({
  p10: significant(p10),
  p50: significant(p50),
  p90: significant(p90),
});

function readiness(survey: Survey): Readiness {
  const { waterLevels, designWaterLevel_m, incidents, campaigns, centreline } = survey;
  const shape = survey.crossSectionAt(centreline.chainage_m[0] ?? Number.NaN);
  const parts = [
    waterLevels.length > 0 ? countText(waterLevels.length, "water level") : "no water levels",
    designWaterLevel_m === null ? "no design water level" : "a design water level",
    shape.crestElevation_m === null ? "no crest elevation" : "a cross-section",
    incidents.length > 0 ? countText(incidents.length, "incident") : "no incidents",
  ];
  const noHead = waterLevels.length === 0 && designWaterLevel_m === null;
  const noShape = shape.crestElevation_m === null || shape.foundationElevation_m === null;
  return {
    ready: campaigns.length > 0,
    text: parts.join(", "),
    cannot: allOf(
      noHead ? "work out a head across the bank" : "",
      noShape ? "work out exit gradients, the cross-section being unknown" : "",
      incidents.length === 0 ? "hear past seepage as evidence" : "",
    ),
  };
}
