import type { StepReport } from "../../step/define-step.js";
import { listText } from "../../step/list-text.js";
import { countText } from "../../step/show/html.js";
import type { Basis } from "../../step/step-account.js";
import type { Fault } from "../../step/step-error.js";
import { planFinding, sitingFigures } from "./figures.js";
import type { SitingInput } from "./input.js";
import type { SitingOptions } from "./options.js";
import { heightAt } from "./places.js";
import type { BoreholePlan } from "./plan.js";
import { sitingTables } from "./tables.js";

/** A plan needs a budget. */
export function sitingFaults(_: SitingInput, { holes, metres }: SitingOptions): readonly Fault[] {
  if (holes !== null || metres !== null) return [];
  const expected = "a number where options.metres is null";
  return [{ code: "option-value", path: "options.holes", expected, received: "null" }];
}

/** What `siteBoreholes` says of itself. */
export function sitingReport(
  value: BoreholePlan,
  _used: SitingOptions,
  input: SitingInput,
): StepReport<BoreholePlan> {
  return {
    value,
    summary: summaryOf(value),
    basis: BASIS,
    cautions: [...CAUTIONS, ...doubts(value, input)],
    figures: value.refused === null ? sitingFigures(value, input) : [],
    tables: value.refused === null ? sitingTables(value) : [],
  };
}

function summaryOf(value: BoreholePlan): string {
  if (value.refused !== null) return `No borehole is proposed: ${value.refused}.`;
  const first = value.holes
    .slice(0, 3)
    .map(({ chainage_m, purpose }) => `${chainage_m.toFixed(0)} m (${purpose})`);
  const { holes, metres } = value;
  return (
    `${countText(holes.length, "borehole")} of ${metres.toFixed(1)} m together are proposed; ` +
    `first ${listText(first)}. ${planFinding(value)}.`
  );
}

const BASIS: readonly Basis[] = [
  {
    statement:
      "Sites are chosen one by one by what each adds to those before it, per hole or metre.",
    source:
      "Nemhauser, Wolsey & Fisher 1978; Minoux 1978; Yaroslavtsev, Zhou & Avdiukhin 2020 (budgets)",
  },
  {
    statement:
      "Borings are not spaced arbitrarily evenly, lie closer in problem areas, and go as deep as " +
      "the bank is high, 3 m at least.",
    source: "USACE EM 1110-2-1913 (the depth remembered)",
  },
  {
    statement: "What a metre of each part counts for is the interpreter's judgement.",
    source: "common practice",
  },
];

const CAUTIONS: readonly string[] = [
  "The plan is for screening: it says where a hole would tell most, not that these holes are enough. " +
    "How many, where and how deep is decided by the licensed engineer responsible, under the local " +
    "code.",
  "Before drilling: have the plans of buried services, scan the place and dig by hand; a metal-free " +
    "reading does not clear a place of plastic pipes or fibre.",
  "Do not drill through a blanket, or through the bank, without the owner's leave and a plan to seal " +
    "the hole: an open hole is a path for water. Not at high water; keep clear of the water's edge " +
    "and of traffic, and never work alone near water.",
];

function doubts(value: BoreholePlan, { survey, zones, blocks, slices }: SitingInput): string[] {
  const middle_m = slices.chainage_m[Math.floor(slices.chainage_m.length / 2)] ?? 0;
  const noShape = heightAt(survey, middle_m) === null;
  const moves = value.holes.filter(({ keptIn, plansTried }) => keptIn < 0.8 * plansTried);
  return [
    ...(noShape
      ? [
          "The bank's height is not known: holes go to the slices' reliable depth and the least " +
            "depth; ask whether that reaches the natural ground.",
        ]
      : []),
    ...(zones.length > 0 && (noShape || survey.waterside === null)
      ? ["The landside toe cannot be placed: seepage zones are drilled from the crest alone."]
      : []),
    ...(blocks === null ? ["No blocks were given: blocks and boundaries are not weighed."] : []),
    ...(moves.length > 0
      ? [
          `${listText(moves.map(({ id }) => id))} ${moves.length === 1 ? "does" : "do"} not stay where ` +
            "a weight is halved or doubled: see the table before they are drilled.",
        ]
      : []),
  ];
}
