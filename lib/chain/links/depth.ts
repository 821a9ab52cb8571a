import type { DepthSlices, Slice } from "../../depth/depth-slices.js";
import { depthStep, estimateDepthSlices } from "../../depth/estimate-depth-slices.js";
import { illFittedText } from "../../depth/ill-fitted.js";
import type { Masked } from "../../interference/masked.js";
import { countText } from "../../step/show/html.js";
import type { StepResult } from "../../step/step-result.js";
import { channelsOf } from "../../survey/channels-of.js";
import { diagnoseChannels } from "../../survey/consistency/diagnose-channels.js";
import { restlessLine, restlessText } from "../../survey/consistency/restless-line.js";
import { diagnosisText } from "../../survey/consistency/sentences.js";
import type { Campaign, Survey } from "../../survey/survey.js";
import { significant } from "../digits.js";
import type { DepthFinding } from "../findings.js";
import { type Asking, ask, type Decided, type Link, type Readiness } from "../link.js";
import { referenceOf, type Work } from "../work.js";
import { without } from "./lacking.js";

export const depthLink: Link = {
  step: depthStep,
  gives: "slices",
  takes: ["masked"],
  run: slicesOf,
  about: ({ value }) => value.campaign,
  readiness: { step: "depth", of: readiness },
  findings: (work) => ({ depth: depthFinding(referenceOf(work).value) }),
  unanswered: ({ slices, masked }) =>
    slices.flatMap(({ value }) => {
      const ill = illFittedText(value);
      const others = unansweredDepth(value, masked?.find(isOf(value))?.value);
      return ill === null ? others : [...others, ill];
    }),
  effect: (before, after) => {
    const [was, is] = [slicesText(before), slicesText(after)];
    return was === is ? null : `Slices ${is}, instead of ${was}.`;
  },
};

/** Slices of every campaign: the first one's own, which the others then share. */
function* slicesOf({ masked }: Work, decided: Decided): Asking<readonly StepResult<DepthSlices>[]> {
  const results: StepResult<DepthSlices>[] = [];
  for (const campaign of masked) {
    const first = results[0]?.value.slices ?? [];
    const shared = first.length === 0 ? {} : { slices: first };
    results.push(yield* ask(estimateDepthSlices, campaign, { ...shared, ...decided }));
  }
  return results;
}

function depthFinding(depth: DepthSlices): DepthFinding {
  return {
    slices: depth.slices
      .filter((slice) => slice.reliable)
      .map(({ top_m, base_m }) => ({ top_m, base_m })),
    independentLevels: depth.independentLevels,
    reliableTo_m: depth.reliableTo_m,
    misfit: significant(depth.rms),
  };
}

/** From here on layered ground and the stated noise do not explain the readings. */
const POOR_FIT = 2;

const isOf =
  ({ campaign }: DepthSlices) =>
  ({ value }: StepResult<Masked>) =>
    value.label === campaign;

function unansweredDepth(
  { campaign, slices, rms }: DepthSlices,
  readings: Campaign | undefined,
): readonly string[] {
  const isKnown = slices.some(({ reliable }) => reliable);
  const fit = rms.toFixed(1);
  const slip = rms > POOR_FIT ? null : slipOf(readings);
  return [
    ...(isKnown
      ? []
      : [
          `${campaign}: resistivity is known reliably at no depth. ${restlessCause(readings)}Blocks ` +
            "rest on differences along the line; resistivities and seepage zones of this campaign " +
            "are rough or missing.",
        ]),
    ...(rms > POOR_FIT
      ? [
          `${campaign}: no layered ground explains the readings (misfit ${fit} times their noise). ` +
            `${causeOf(readings)}; what follows may be wrong until that is found.`,
        ]
      : []),
    ...(slip === null
      ? []
      : [`${campaign}: ${slip}. Resistivities and depths may be wrong until that is settled.`]),
  ];
}

/** What jumping readings look like, as a sentence with a space after it; "" where they are quiet. */
function restlessCause(readings: Campaign | undefined): string {
  const found = readings === undefined ? null : restlessLine(readings);
  if (found === null) return "";
  const text = restlessText(found);
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}. `;
}

/** A wrong description that noise found from the line took in: the fit is good then. */
function slipOf(readings: Campaign | undefined): string | null {
  return readings === undefined ? null : diagnosisText(diagnoseChannels(readings));
}

/** Slips in the description are looked for from a misfit on that zeros and gains may make too. */
const WITHIN_ERRORS = 1;

function causeOf(readings: Campaign | undefined): string {
  const found = readings && diagnoseChannels(readings, { poor: WITHIN_ERRORS });
  const text = found === undefined ? null : diagnosisText(found);
  if (text !== null) return `On a sample of stations ${text}`;
  return (
    "A zero, a gain or a drift left in the channels, metal along the line or a wrongly declared " +
    "instrument may be the cause"
  );
}

function slicesText({ slices }: Work): string {
  const depths = (slices[0]?.value.slices ?? []).map(
    ({ top_m, base_m }: Slice) => `${top_m.toFixed(1)}–${base_m.toFixed(1)}`,
  );
  return depths.length === 0 ? "none" : `${depths.join(", ")} m`;
}

/** Channels that a sounding can be made of. */
const sounding = (campaign: Campaign) =>
  channelsOf(campaign, "quadrature") + channelsOf(campaign, "conductivity");

function readiness(survey: Survey): Readiness {
  const { campaigns } = survey;
  const parts = campaigns.map((one) => `${countText(sounding(one), "channel")} in ${one.label}`);
  const ready = campaigns.some((campaign) => sounding(campaign) > 0);
  return {
    ready,
    text: ready ? `quadrature or conductivity: ${parts.join(", ")}` : "no channel to sound with",
    cannot: without(
      survey,
      (campaign) => sounding(campaign) < 3,
      "tell more depths apart than it has channels, fewer than three",
    ),
  };
}
