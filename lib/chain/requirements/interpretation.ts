import { countText } from "../../step/show/html.js";
import { referenceOf, type Work } from "../work.js";
import { type Answer, inPart, met, none, notAsked, type Requirement } from "./requirement.js";

/** What the record says of processing and interpretation. */
export const interpretation: readonly Requirement[] = [
  {
    id: "R15",
    asks: "Each correction listed, switchable, with its parameters",
    where: ["placeReadings", "correctDrift", "maskInterference", "estimateDepthSlices"],
    answer: () => met("Every step lists its options as used; each can be set in the notebook."),
  },
  {
    id: "R16",
    asks: "Settings of inversions, misfit and reliable depth on every section",
    where: ["estimateDepthSlices", "invertSection"],
    answer: inversions,
  },
  {
    id: "R17",
    asks: "Interference shown on sections",
    where: ["estimateDepthSlices", "invertSection"],
    answer: ({ sections = [] }) =>
      sections.length === 0
        ? met(
            "The walk's sections stop where readings are set aside, with the cause written there.",
          )
        : inPart(
            "The walk's sections stop where readings are set aside, with the cause written there; noted " +
              "objects are not drawn on sections under electrode lines.",
          ),
  },
  {
    id: "R18",
    asks: "Alternatives, unresolved problems, reliability",
    where: ["tryAlternatives", "gatherFindings"],
    answer: alternatives,
  },
  {
    id: "R19",
    asks: "Zones of like ground, and singular points",
    where: ["segmentBlocks", "maskInterference"],
    answer: ({ blocks, masked }) => {
      const points = masked.reduce((sum, { value }) => sum + value.interference.length, 0);
      const cut = countText(blocks.value.blocks.length, "block");
      return met(`${cut}; ${countText(points, "disturbed stretch", "disturbed stretches")}.`);
    },
  },
  {
    id: "R20",
    asks: "Two methods along the bank that complement each other",
    where: ["compareWithWalk"],
    answer: ({ sections = [] }) => {
      const along = sections.filter(({ value }) => value.runs === "along").length;
      return along > 0
        ? inPart(
            `${countText(along, "electrode line")} along the bank beside the walk, on part of it.`,
          )
        : none("One method along the bank.");
    },
  },
  {
    id: "R21",
    asks: "Boreholes sited from the zones, and a second interpretation after drilling",
    where: ["siteBoreholes"],
    answer: boreholes,
  },
  {
    id: "R22",
    asks: "No claim on soil, permeability or safety from resistivity alone",
    where: ["segmentBlocks", "scoreSeepage"],
    answer: () =>
      met(
        "Classes carry letters; soils are told from boreholes only; zones rank and judge no safety.",
      ),
  },
  {
    id: "R23",
    asks: "The contrast that a target needs to show, said",
    where: ["planProfiling", "scoreSeepage"],
    answer: () => met("What body of which size and contrast would have shown, and how often."),
  },
  {
    id: "R24",
    asks: "Review by somebody not otherwise involved",
    where: [],
    answer: ({ survey }) => {
      const people = survey.value.edition?.contributors ?? [];
      const reviewers = people.filter(({ role }) => /review/i.test(role));
      return reviewers.length > 0
        ? inPart(
            `Named: ${reviewers.map(({ title }) => title).join(", ")}; what was reviewed is not recorded.`,
          )
        : none("No reviewer is named; banquette review executes the appendix again for one.");
    },
  },
];

function inversions(work: Work): Answer {
  const { misfit, reliableTo_m, chainage_m } = referenceOf(work).value;
  if (chainage_m.length === 0) return none("No station has an estimate.");
  const usable = Float64Array.from(misfit)
    .filter((value) => !Number.isNaN(value))
    .sort();
  const middle = usable[Math.floor(usable.length / 2)] ?? Number.NaN;
  const lines = (work.sections ?? []).map(({ value }) => `${value.line} ${value.rms.toFixed(2)}`);
  const others = lines.length === 0 ? "" : `; normalised misfit of lines: ${lines.join(", ")}`;
  const depth =
    reliableTo_m > 0 ? `reliable to ${reliableTo_m.toFixed(1)} m` : "reliable at no depth";
  return met(`Walk: median misfit ${middle.toFixed(2)}, ${depth}${others}.`);
}

function alternatives({ decisions, robustness }: Work): Answer {
  const proposed = decisions.filter(({ isProposal }) => isProposal).length;
  const text = `${countText(decisions.length, "decision")}, each with its alternatives`;
  if (robustness === undefined) return inPart(`${text}; not followed to the findings.`);
  if (proposed === 0) return met(`${text} followed to the findings.`);
  return inPart(
    `${text} followed to the findings; ${proposed} still ${proposed === 1 ? "has" : "have"} the reason that the tool proposes.`,
  );
}

function boreholes({ survey, boreholes: plan }: Work): Answer {
  const drilled = survey.value.boreholes.length;
  if (plan === undefined)
    return drilled === 0 ? notAsked("No boreholes.") : none("None is proposed.");
  const sited = countText(plan.value.holes.length, "borehole");
  return inPart(
    `${sited} proposed from blocks, zones and changes beside ${drilled} drilled; secondInterpretation ` +
      "tells what new holes change.",
  );
}
