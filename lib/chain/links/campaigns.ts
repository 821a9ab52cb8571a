import { headStep, responseToHead } from "../../campaigns/head/response-to-head.js";
import type { Change, Changes } from "../../campaigns/pair/changes.js";
import { compareCampaigns, compareStep } from "../../campaigns/pair/compare-campaigns.js";
import { trendOverCampaigns, trendStep } from "../../campaigns/trend/trend-over-campaigns.js";
import { neighbours } from "../../numerics/arrays.js";
import { countText } from "../../step/show/html.js";
import type { StepResult } from "../../step/step-result.js";
import type { Campaign, Survey } from "../../survey/survey.js";
import { chainage, significant } from "../digits.js";
import type { ChangeFinding, ComparedFinding } from "../findings.js";
import { ask, type Link, type Readiness } from "../link.js";
import { stretchesText } from "../robustness/effect-text.js";
import { changeName, lostStretches, survival } from "../robustness/survival.js";
import { surveyOf, type Work } from "../work.js";
import { allOf, without } from "./lacking.js";
import { unansweredChange, unknownShare_pct } from "./unanswered-change.js";

export const compareLink: Link = {
  step: compareStep,
  gives: "changes",
  takes: ["slices"],
  run: function* ({ slices }, decided) {
    const results: StepResult<Changes>[] = [];
    for (const [earlier, later] of neighbours(slices)) {
      results.push(yield* ask(compareCampaigns, earlier, later, decided));
    }
    return results;
  },
  about: ({ value }) => `${value.earlier} to ${value.later}`,
  readiness: { step: "campaigns", of: readiness },
  findings: (work) => ({
    changes: changesOf(work).map((change) => changeFinding(change, work)),
    compared: work.changes.map(({ value }) => comparedFinding(value)),
  }),
  unanswered: ({ changes }) => changes.flatMap(({ value }) => unansweredChange(value)),
  absent: ({ changes }) =>
    changes.length === 0 ? "No comparison: the survey holds one campaign." : null,
  effect: (before, after) => instead("Changes", changed(before), changed(after)),
  names: (work) => changesOf(work).map(changeName),
  lost: (before, after) =>
    lostStretches({ before: changesOf(before), after: changesOf(after) }, changeName, isSameWay),
};

const changesOf = ({ changes }: Work) => changes.flatMap(({ value }) => value.changes);

/** Between the same campaigns, in the same direction. */
const isSameWay = (one: Change, other: Change) =>
  one.earlier === other.earlier && one.later === other.later && one.direction === other.direction;

const changed = (work: Work) => stretchesText(changesOf(work));

/** "Changes: …, instead of …", or nothing where both are the same. */
function instead(name: string, was: string, is: string): string | null {
  return was === is ? null : `${name}: ${is}, instead of ${was}.`;
}

function comparedFinding(value: Changes): ComparedFinding {
  const { earlier, later } = value;
  return { earlier, later, unknown_pct: significant(unknownShare_pct(value)) };
}

/** The fields of the contract only: intervals and single slices stay with the step's own result. */
function changeFinding(change: Change, work: Work): ChangeFinding {
  const { earlier, later, direction } = change;
  return {
    from_m: chainage(change.from_m),
    to_m: chainage(change.to_m),
    earlier,
    later,
    direction,
    ratio: significant(change.ratio),
    q: significant(change.q),
    slices: [...change.slices],
    ...survival(work, changeName(change)),
  };
}

/** Fewer campaigns than this give neither a slope nor a response. */
const LEAST_CAMPAIGNS = 3;

export const trendLink: Link = {
  step: trendStep,
  gives: "trend",
  takes: ["slices"],
  run: function* ({ slices }, decided) {
    return slices.length < LEAST_CAMPAIGNS
      ? undefined
      : yield* ask(trendOverCampaigns, slices, decided);
  },
  effect: (before, after) => {
    const text = ({ trend }: Work) => stretchesText(trend?.value.trends ?? []);
    return instead("Trend", text(before), text(after));
  },
};

export const headLink: Link = {
  step: headStep,
  gives: "head",
  takes: ["survey", "placed", "slices"],
  run: function* (work, decided) {
    const survey = surveyOf(work);
    const asked = work.slices.length >= LEAST_CAMPAIGNS && survey.value.waterLevels.length > 0;
    return asked ? yield* ask(responseToHead, work.slices, survey, decided) : undefined;
  },
  about: ({ value }) => value.point,
  effect: (before, after) => {
    const text = ({ head }: Work) =>
      stretchesText((head?.value.stretches ?? []).filter(({ responds }) => responds));
    return instead("Response to the water", text(before), text(after));
  },
};

function readiness(survey: Survey): Readiness {
  const { campaigns } = survey;
  const noTemperature = ({ soilTemperature }: Campaign) => soilTemperature.length === 0;
  const cold = campaigns.filter(noTemperature).map(({ label }) => label);
  const temperature =
    cold.length === 0 ? "with soil temperatures" : `no soil temperatures for ${cold.join(", ")}`;
  const ready = campaigns.length > 1;
  return {
    ready,
    text: ready
      ? `${campaigns.length} campaigns; ${temperature}`
      : `${countText(campaigns.length, "campaign")}; a comparison takes two`,
    cannot: allOf(
      ready ? "" : "look for change",
      without(survey, noTemperature, "bring the campaigns to 25 °C by soil temperatures"),
    ),
  };
}
