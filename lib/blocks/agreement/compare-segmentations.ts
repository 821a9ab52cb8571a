import { defineStep, runStep } from "../../step/define-step.js";
import { type Given, resultValue, type StepResult } from "../../step/step-result.js";
import type { Blocks } from "../blocks.js";
import type { ClassedStretch, SegmentationAgreement } from "./agreement.js";
import { agreementOf } from "./agreement-of.js";
import { stretchFaults } from "./check-stretches.js";
import { agreementFigure, agreementSentence } from "./figures.js";
import { type CompareSegmentationsOptions, compareSegmentationsOptions } from "./options.js";
import { agreementTables } from "./tables.js";

type Pair = readonly [readonly ClassedStretch[], readonly ClassedStretch[]];

const agreementStep = defineStep({
  name: "compareSegmentations",
  options: compareSegmentationsOptions,
  faults: ([one, other]: Pair) => [...stretchFaults(one, "one"), ...stretchFaults(other, "other")],
  run: agreementOf,
  report: (value: SegmentationAgreement, _, pair: Pair) => ({
    value,
    summary: `${agreementSentence(value)}.`,
    basis: [
      { statement: "Kappa, the agreement beyond chance.", source: "Cohen 1960" },
      {
        statement: "Standard error of kappa.",
        source: "Fleiss, Cohen & Everitt 1969, Psychological Bulletin 72, 323–327",
      },
    ],
    figures: [agreementFigure(value, pair)],
    tables: agreementTables(value),
  }),
});

/** A cut: what `segmentBlocks` returned, or its stretches. */
export type Segmentation = Given<Blocks> | readonly ClassedStretch[];

/**
 * How far two segmentations of a line agree, in their boundaries and by metre in their classes.
 *
 * Boundaries are paired so that the most pairs lie within `within_m`, and among those with the
 * least total distance. Precision is the paired share of the one's boundaries, recall that of the
 * other's, F their harmonic mean. Classes are compared over the length that both cover, once it is
 * told which is which: letters name the same ground only by chance. By `ground` (default) classes
 * are paired one to one so that their resistivities lie nearest, none further than
 * `sameGround_decades` apart; without resistivities on both sides, and by `overlap`, so that they
 * share the most length, which makes agreement look its best; by `name`, as they are called. Kappa
 * is the agreement beyond what the classes' shares would give by chance. Its interval is the
 * large-sample one with length / `independent_m` judgements, since metres of one block are not
 * judged one by one.
 *
 * @param one what `segmentBlocks` returned, or stretches by chainage, m, without overlaps; gaps
 *   between them are left out.
 * @param other the same, of the second interpreter or of another choice of options.
 *
 * A boundary is an end that two stretches share, or where a gap stands between them its middle; the
 * ends of the line are none. Swapping the two swaps precision and recall, and nothing else.
 *
 * Throws a StepError with every fault of the stretches and options.
 *
 * Source: Cohen 1960; Fleiss, Cohen & Everitt 1969 (kappa); van Rijsbergen 1979, Information
 * Retrieval, chapter 7 (F); Kuhn 1955 (pairs of classes).
 *
 * @example
 * const block = (from_m: number, to_m: number, name: string) => ({ from_m, to_m, class: name });
 * compareSegmentations([block(0, 50, "A"), block(50, 100, "B")], [block(0, 100, "A")]).value.f; // 0
 */
export function compareSegmentations(
  one: Segmentation,
  other: Segmentation,
  options: Partial<CompareSegmentationsOptions> = {},
): StepResult<SegmentationAgreement> {
  return runStep(agreementStep, [stretchesOf(one), stretchesOf(other)], options);
}

function stretchesOf(cut: Segmentation): readonly ClassedStretch[] {
  return isList(cut) ? cut : resultValue(cut).blocks;
}

function isList(cut: Segmentation): cut is readonly ClassedStretch[] {
  return Array.isArray(cut);
}
