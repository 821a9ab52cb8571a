import type { ProposedBorehole } from "../../boreholes/siting/plan.js";
import { siteBoreholes, sitingStep } from "../../boreholes/siting/site-boreholes.js";
import { isSame } from "../../boreholes/siting/stability.js";
import { listText } from "../../step/list-text.js";
import { countText } from "../../step/show/html.js";
import type { Survey } from "../../survey/survey.js";
import { chainage, significant } from "../digits.js";
import type { BoreholeFinding } from "../findings.js";
import { ask, type Link, type Readiness } from "../link.js";
import { survival } from "../robustness/survival.js";
import { referenceOf, surveyOf, type Work } from "../work.js";
import { allOf } from "./lacking.js";

export const boreholesLink: Link = {
  step: sitingStep,
  gives: "boreholes",
  takes: ["survey", "placed", "reference", "blocks", "soils", "seepage", "changes", "masked"],
  run: (work, decided) => {
    const { blocks, seepage, changes, masked, soils = null } = work;
    const evidence = { survey: surveyOf(work), slices: referenceOf(work), blocks, soils };
    return ask(siteBoreholes, { ...evidence, seepage, changes, masked }, decided);
  },
  readiness: { step: "boreholes", of: readiness },
  findings: (work) => ({ boreholes: holesOf(work).map((hole) => finding(hole, work)) }),
  absent: ({ boreholes }) =>
    boreholes === undefined ? "Boreholes were not sited: none is proposed." : null,
  effect: (before, after) => {
    const gone = lost(before, after);
    const added = holesOf(after).filter(
      (hole) => !holesOf(before).some((one) => isSame(one, hole)),
    );
    const parts = [
      ...(gone.length > 0 ? [`${listText(gone)} not proposed`] : []),
      ...(added.length > 0 ? [`instead or besides ${listText(added.map(placeText))}`] : []),
    ];
    return parts.length === 0 ? null : `Boreholes: ${parts.join("; ")}.`;
  },
  names: (work) => holesOf(work).map(({ id }) => id),
  lost,
};

const holesOf = ({ boreholes }: Work): readonly ProposedBorehole[] => boreholes?.value.holes ?? [];

/** Holes that have no other near their place. */
function lost(before: Work, after: Work): readonly string[] {
  return holesOf(before)
    .filter((hole) => !holesOf(after).some((other) => isSame(hole, other)))
    .map(({ id }) => id);
}

const placeText = ({ chainage_m, place }: ProposedBorehole) =>
  `${chainage_m.toFixed(0)} m${place === "crest" ? "" : ` (${place})`}`;

function finding(hole: ProposedBorehole, work: Work): BoreholeFinding {
  return {
    id: hole.id,
    chainage_m: chainage(hole.chainage_m),
    offset_m: significant(hole.offset_m),
    depth_m: significant(hole.depth_m),
    purpose: hole.purpose,
    reason: hole.reason,
    priority: hole.priority,
    place: hole.place,
    kept: significant(hole.plansTried > 0 ? hole.keptIn / hole.plansTried : 1),
    ...survival(work, hole.id),
  };
}

function readiness(survey: Survey): Readiness {
  const { boreholes, campaigns, centreline, waterside } = survey;
  const shape = survey.crossSectionAt(centreline.chainage_m[0] ?? Number.NaN);
  const noHeight = shape.crestElevation_m === null || shape.foundationElevation_m === null;
  const noToe = noHeight || shape.landsideSlope === null || waterside === null;
  return {
    ready: campaigns.length > 0,
    text:
      boreholes.length > 0
        ? `${countText(boreholes.length, "borehole")} that count as drilled`
        : "no boreholes yet",
    cannot: allOf(
      noHeight ? "make holes as deep as the bank is high, its height being unknown" : "",
      noToe ? "place holes at the landside toe" : "",
    ),
  };
}
