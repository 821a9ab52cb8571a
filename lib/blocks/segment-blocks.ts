import { choiceFault, depthSlicesFaults, rangeFault } from "../depth/check-depth-slices.js";
import type { DepthSlices } from "../depth/depth-slices.js";
import type { Figure } from "../step/figure.js";
import { type Fault, quoted, StepError } from "../step/step-error.js";
import { type Given, resultValue, StepResult } from "../step/step-result.js";
import { unknownOptions } from "../step/unknown-options.js";
import type { Borehole } from "../survey/survey.js";
import { blocksBasis, blocksCautions, blocksSummary } from "./account.js";
import type { Blocks } from "./blocks.js";
import { blocksPath } from "./blocks-path.js";
import { boundariesOf } from "./boundaries.js";
import { classFigure } from "./classes/class-figure.js";
import { classTable } from "./classes/class-table.js";
import { cutIntoBlocks } from "./cut/cut-into-blocks.js";
import type { ChangeKind } from "./cut/segment-cost.js";
import { describeBlocks } from "./describe-blocks.js";
import { blocksFigure } from "./figures/blocks-figure.js";
import { blocksMap } from "./figures/map-figure.js";
import { pathFigure } from "./figures/path-figure.js";
import { blocksTable } from "./tables.js";

export interface SegmentBlocksOptions {
  /**
   * The price of a boundary, in units of squared noise: a number ≥ 0 for every boundary alike, or
   * "mbic", which follows from the number of stations and the blocks' lengths. A higher price gives
   * fewer blocks; 0 cuts wherever `minLength_m` allows. Default "mbic".
   */
  readonly penalty: number | "mbic";
  /** Length of the shortest block, m, > 0; gaps within a block count. Default 40. */
  readonly minLength_m: number;
  /**
   * What may change at a boundary: "mean", or "mean and spread", which also parts an even stretch
   * from an uneven one of the same mean. Default "mean".
   */
  readonly change: ChangeKind;
  /**
   * "correlated": neighbouring stations and slices resemble each other, and the noise is raised
   * accordingly. "independent": every value is taken to err for itself, as tests and prices usually
   * assume; it finds boundaries that are none, and is there for comparison. Default "correlated".
   */
  readonly noise: "correlated" | "independent";
  /**
   * From how far apart on two blocks are rather of two classes, decades of resistivity over all
   * slices (0.12 is a factor of 1.32), ≥ 0. At 0 every block is a class of its own. Default 0.12.
   */
  readonly classDistance: number;
  /**
   * The survey's boreholes: the table of classes then says which strata the boreholes in each class
   * met. They do not move a boundary or name a class. Default none.
   */
  readonly boreholes: readonly Borehole[];
}

export const segmentBlocksDefaults: Readonly<SegmentBlocksOptions> = Object.freeze({
  penalty: "mbic",
  minLength_m: 40,
  change: "mean",
  noise: "correlated",
  classDistance: 0.12,
  boreholes: Object.freeze([]),
});

/**
 * Cuts the line into blocks: stretches of like ground, with boundary intervals and classes.
 *
 * The reliable slices' log10 resistivities are cut at once by `findChangePoints`, exactly. What
 * counts as noise is the scatter within blocks, estimated about the cut itself and raised for two
 * resemblances: of neighbouring stations (its long-run variance takes the place of the variance)
 * and of slices (d columns count as d² / Σ r² columns). It is never taken below the slices' own sd,
 * and a station that is less certain than most counts for less.
 *
 * Certainty comes from the exact posterior over all cuts, each with weight exp(−½ objective) at the
 * price of "mbic": the 90 % interval of the k-th boundary given as many boundaries, the probability
 * that there is a boundary at all, and that of the number of boundaries. An interval is narrowed to
 * the noise of means as short as itself, which err by less than the long-run noise says, and widened by
 * what the readings' own places leave in doubt (`positionSd_m` of the slices).
 *
 * Classes are a mixture of normal distributions over the blocks' medians, their number by the Bayes
 * information criterion.
 *
 * @param slices n stations × k slices of log10(ohm-m), plain or as the result of the step before.
 * @param options see each option; what is left out is `segmentBlocksDefaults`.
 * @returns the blocks by chainage, without gaps or overlaps; resistivities (median, 10 % and 90 %
 *   points over the block's stations) in ohm-m at field temperature for the reliable slices; the
 *   posterior along the line; the best cuts at other prices.
 *
 * Missing values: stations without estimate belong to the block around them and are counted in
 * `masked_pct`; a boundary inside a gap stands in its middle with an interval over the whole gap.
 * Without a reliable slice or a station with an estimate there are no blocks, and a caution says so.
 *
 * Limits: a block is taken to be level along the line; ground that grades is cut where the
 * step is best. Blocks shorter than `minLength_m` are not seen, and neighbours that resemble each
 * other over more than half of it are noise that looks like blocks. The posterior takes the noise
 * as known; its time grows with the square of the longest block. A class is not a soil.
 *
 * Throws a StepError with every fault of the slices and options.
 *
 * Source: Jackson et al. 2005; Killick, Fearnhead & Eckley 2012; Zhang & Siegmund 2007 (cut);
 * Wu & Zhao 2007 (long-run variance); Fearnhead 2006 (posterior); Haynes, Eckley & Fearnhead 2017
 * (other prices); Fraley & Raftery 2002 (classes).
 *
 * @example segmentBlocks(slices).value.blocks[0].class // such as "C"
 */
export function segmentBlocks(
  slices: Given<DepthSlices>,
  options: Partial<SegmentBlocksOptions> = {},
): StepResult<Blocks> {
  const given = resultValue(slices);
  const used: SegmentBlocksOptions = { ...segmentBlocksDefaults, ...options };
  const faults = [...depthSlicesFaults(given, "slices"), ...optionFaults(used)];
  if (faults.length > 0) throw new StepError("segmentBlocks", faults);
  const value = blocksOf(given, used);
  return new StepResult({
    step: "segmentBlocks",
    summary: blocksSummary(value),
    value,
    used: { ...used, boreholes: used.boreholes.map(({ borehole }) => borehole) },
    basis: blocksBasis,
    cautions: blocksCautions(given, value),
    accounting: null,
    figures: blocksFigures(given, value),
    tables: value.blocks.length > 0 ? [blocksTable(value), classTable(value, used.boreholes)] : [],
  });
}

function blocksOf(given: DepthSlices, used: SegmentBlocksOptions): Blocks {
  const reliable = given.slices.map((slice, k) => (slice.reliable ? k : -1)).filter((k) => k >= 0);
  const columns = reliable.map((k) => given.log10Resistivity[k]!);
  const present = presentStations(columns, given.chainage_m.length);
  const head = { campaign: given.campaign, centreline: given.centreline };
  if (!present.includes(true)) return { ...head, blocks: [], objective: 0, penalty: 0 };
  const minLength = Math.max(1, Math.ceil(used.minLength_m / given.spacing_m - 1e-9));
  const sd = reliable.map((k) => given.sd[k]!);
  const { penalty, change, noise, classDistance } = used;
  const cut = cutIntoBlocks({ values: columns, sd }, { penalty, minLength, change, noise });
  const { chainage_m, spacing_m, positionSd_m } = given;
  const { breakProbability, numberProbability, ranges } = cut.posterior;
  const stations = { chainage_m, spacing_m, present, breakProbability, positionSd_m };
  const boundaries = boundariesOf(ranges, stations);
  return {
    ...head,
    blocks: describeBlocks(given, boundaries, { noise: cut.noise, classDistance }),
    objective: cut.objective,
    penalty: cut.penalty,
    posterior: {
      chainage_m,
      probability: breakProbability.slice(0, chainage_m.length),
      numberProbability,
    },
    path: blocksPath(cut, { minLength, penalty, stations }),
  };
}

function blocksFigures(given: DepthSlices, value: Blocks): Figure[] {
  if (value.blocks.length === 0) return [];
  const path = pathFigure(value);
  return [
    blocksFigure(given, value),
    ...(path === null ? [] : [path]),
    classFigure(value),
    blocksMap(value),
  ];
}

function presentStations(columns: readonly Float64Array[], n: number): boolean[] {
  return Array.from({ length: n }, (_, i) => columns.some((column) => !Number.isNaN(column[i]!)));
}

function optionFaults(used: SegmentBlocksOptions) {
  const penalty = used.penalty === "mbic" ? [] : rangeFault("penalty", used.penalty, { from: 0 });
  return [
    ...penalty.map((fault) => ({ ...fault, expected: `${fault.expected}, or "mbic"` })),
    ...choiceFault("change", used.change, ["mean", "mean and spread"]),
    ...choiceFault("noise", used.noise, ["correlated", "independent"]),
    ...rangeFault("minLength_m", used.minLength_m, { above: 0 }),
    ...rangeFault("classDistance", used.classDistance, { from: 0 }),
    ...boreholesFault(used.boreholes),
    ...unknownOptions(used, segmentBlocksDefaults),
  ];
}

function boreholesFault(boreholes: unknown): Fault[] {
  if (Array.isArray(boreholes)) return [];
  const expected = "a list of boreholes";
  return [
    { code: "option-type", path: "options.boreholes", expected, received: quoted(boreholes) },
  ];
}
