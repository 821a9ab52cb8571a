import { type EmbankmentShape, shapeFaults } from "../earth/embankment/shape.js";
import { choiceOption, customOption, flagOption, progressOption } from "../step/options/kinds.js";
import { numberOption, numberOr } from "../step/options/number.js";
import type { OptionsOf } from "../step/options/option.js";
import { defaultsOf } from "../step/options/resolve.js";
import type { Fault } from "../step/step-error.js";
import { sectionFaults } from "./section-check.js";
import type { SectionElectrode, WaterCover } from "./section-input.js";
import type { CrossSectionEarth } from "./shape/crest-response.js";

/** Resistivity of a part of a line's ground as a borehole gives it. */
export interface SectionTie {
  readonly x_m: number;
  /** m below the surface. */
  readonly top_m: number;
  readonly base_m: number;
  /** Mean (of the logarithm) between the depths, at field temperature, ohm-m. */
  readonly resistivity_ohm_m: number;
  /** Standard deviation of its log10, above 0. */
  readonly log10Sd: number;
}

/** A level interface across which ground may change at once: a water table, a known layer. */
export interface SectionBreak {
  /** m above the survey's datum. */
  readonly elevation_m: number;
}

export const invertSectionOptions = {
  campaign: customOption<string | null>({
    default: null,
    rule: "a campaign's label, or null for all readings",
    holds: (label) => label === null || typeof label === "string",
    meaning: "Whose readings are inverted; null: those of the line's first campaign.",
  }),
  mostDeviation_pct: numberOption({
    default: 5,
    above: 0,
    unit: "%",
    meaning: "A reading with a greater stacking deviation is set aside.",
  }),
  leastVoltage_mV: numberOption({
    default: 0.1,
    from: 0,
    unit: "mV",
    meaning: "A reading with a smaller voltage is set aside.",
  }),
  proportionalError: numberOption({
    default: 0.01,
    above: 0,
    below: 1,
    meaning:
      "Error of a reading as a share of it, as believed before repeats and reciprocals are " +
      "looked at; it stands where there are none.",
  }),
  modelError: numberOption({
    default: 0.01,
    from: 0,
    below: 1,
    meaning:
      "Error, share of a reading, that repeats cannot show: positions of electrodes, ground that " +
      "varies across the line, cells of one resistivity.",
  }),
  noise: choiceOption(["found", "stated"], {
    default: "found",
    meaning:
      '"found": all errors times a common factor that the readings themselves decide, believed to ' +
      'be near 1 beforehand; "stated": as they are.',
  }),
  modelNorm: choiceOption(["smooth", "blocky"], {
    default: "smooth",
    meaning:
      '"smooth": differences between neighbouring cells are normal; "blocky": t-distributed, few ' +
      "large ones among many small ones (robust model norm), for ground of sharp bodies.",
  }),
  dataNorm: choiceOption(["normal", "robust"], {
    default: "robust",
    meaning:
      '"robust": beyond two standard deviations an error counts by its size, not its square (L1), ' +
      'so that a reading the rest cannot explain loses weight; "normal": each keeps its weight.',
  }),
  smoothness: numberOr(["found"], {
    default: "found",
    above: 0,
    meaning:
      "How many times smoother the ground is along the line than with depth: ratio of the scales " +
      'of differences between cells; "found": as the readings have it, with the blocky norm 4.',
  }),
  columnsPerSpacing: numberOption({
    default: 1,
    from: 1,
    upTo: 2,
    whole: true,
    meaning: "Columns of cells between two electrodes; time goes with its square and more.",
  }),
  depth_m: numberOr(["readings"], {
    default: "readings",
    above: 0,
    unit: "m",
    meaning:
      'Depth down to which cells are laid; below goes on the last; "readings": 1.5 times their ' +
      "greatest median depth.",
  }),
  cellsPerSpacing: numberOption({
    default: 2.5,
    from: 2,
    upTo: 6,
    meaning:
      "Fineness of the forward model's grid. At 2.5 readings are off by 0.2 % as a rule and 0.7 % " +
      "at worst over layers of a contrast of ten; at 3 by half of that.",
  }),
  breaks: customOption<readonly SectionBreak[]>({
    default: Object.freeze([]),
    rule: "a list of { elevation_m }",
    holds: (list) => Array.isArray(list) && list.every((one) => Number.isFinite(one?.elevation_m)),
    role: "data",
    shown: (list) => list.map((one) => ({ ...one })),
    meaning: "Level interfaces across which smoothness does not hold.",
  }),
  ties: customOption<readonly SectionTie[]>({
    default: Object.freeze([]),
    rule: "a list of ties, each with 0 <= top_m < base_m, resistivity_ohm_m and log10Sd above 0",
    holds: (list) => Array.isArray(list) && list.every(isTie),
    role: "data",
    shown: (list) => list.map((one) => ({ ...one })),
    meaning: "Resistivity between two depths at a place of the line, from boreholes.",
  }),
  shape: customOption<EmbankmentShape | null>({
    default: null,
    rule: "a cross-section, or null for level ground beside the line",
    faults: (shape, path) => (shape === null ? [] : shapeFaultsAt(shape, path)),
    role: "data",
    shown: (shape) => shape && { ...shape },
    meaning: "The embankment's cross-section where the line runs along it.",
  }),
  crossSection: customOption<CrossSectionEarth | null>({
    default: null,
    rule: "a cross-section with earth, surface and the place of the line in it, or null",
    holds: (given) => given === null || isCrossSection(given),
    role: "data",
    shown: (given) => given && { surface: given.surface.length, cells: cellCount(given) },
    meaning:
      "The embankment's make across, with core, blanket and water beside it, where it is known: " +
      "readings along the crest are then divided by what it makes of them over layered level " +
      "ground of the resistivities under the line (in place of `shape`). Its level faces are given as " +
      "`breaks` besides: a core that is put in step by step comes out 15 % too conductive without.",
  }),
  correctShape: flagOption({
    default: true,
    title: "The embankment's shape divided out of electrode lines",
    meaning:
      "Whether readings along the crest are divided by what the embankment's shape makes of them, " +
      "its own alone (embankmentFactor) or that of `crossSection`; false: the ground beside the " +
      "line is taken as level.",
  }),
  water: customOption<WaterCover | null>({
    default: null,
    rule: "a level_m, the place from_m from which lower ground is wet, and bed: { x_m, elevation_m }[]",
    holds: (given) => given === null || isWaterCover(given),
    role: "data",
    shown: (given) => given && { ...given, bed: given.bed.length },
    meaning:
      "The water of the day beside a line across, as `waterBeside` has it of a survey: it conducts, " +
      "beyond the line's end and over electrodes that lie under it; null: not known, or none.",
  }),
  includeWater: flagOption({
    default: true,
    title: "Water beside lines across as part of the ground",
    meaning: "Whether the water that is known is in the forward model; false: air in its place.",
  }),
  waterResistivity_ohm_m: numberOption({
    default: 30,
    above: 0,
    unit: "ohm-m",
    meaning:
      "Resistivity of that water at its temperature, as it was measured. Surface waters over " +
      "sediments have 10 to 100 ohm-m (Telford, Geldart & Sheriff 1990), 30 in their middle.",
  }),
  cellSd: numberOption({
    default: 0.15,
    above: 0,
    meaning: "A cell is reliable where its log10 resistivity is known to this standard deviation,",
  }),
  reach: numberOption({
    default: 0.3,
    above: 0,
    below: 1,
    meaning:
      "and where no more than this share of a reference resistivity shows through in it (two-" +
      "reference depth of investigation).",
  }),
  mostIterations: numberOption({
    default: 10,
    from: 1,
    upTo: 50,
    whole: true,
    meaning: "Most steps of Gauss and Newton.",
  }),
  draws: numberOption({
    default: 120,
    from: 50,
    upTo: 2000,
    whole: true,
    meaning: "Posterior draws, of which quantiles are taken and which are handed on.",
  }),
  seed: numberOption({ default: 1, whole: true, meaning: "Seed of the draws." }),
  progress: progressOption(
    "Called now and then with the share of the work done, as parts of a total.",
  ),
};

/** Options of `invertSection`, resolved. */
export interface InvertSectionOptions extends OptionsOf<typeof invertSectionOptions> {}

export const invertSectionDefaults: InvertSectionOptions = defaultsOf(invertSectionOptions);

function isTie(tie: Partial<SectionTie> | null): boolean {
  const { x_m, top_m = Number.NaN, base_m = Number.NaN, resistivity_ohm_m, log10Sd } = tie ?? {};
  const isPositive = (value: number | undefined) => Number.isFinite(value) && (value ?? 0) > 0;
  const isPlaced = Number.isFinite(x_m) && top_m >= 0 && base_m > top_m;
  return isPlaced && isPositive(resistivity_ohm_m) && isPositive(log10Sd);
}

function isCrossSection(given: unknown): boolean {
  const { earth, surface, line } = (given ?? {}) as Partial<CrossSectionEarth>;
  if (earth === undefined || !Array.isArray(surface) || surface.length < 2) return false;
  const question = { earth, electrodes: surface, spreads: [] };
  return Number.isInteger(line) && (line ?? -1) in surface && sectionFaults(question).length === 0;
}

function isWaterCover(given: unknown): boolean {
  const { level_m, from_m, bed } = (given ?? {}) as Partial<WaterCover>;
  const isPoint = (point: Partial<SectionElectrode> | null) =>
    Number.isFinite(point?.x_m) && Number.isFinite(point?.elevation_m);
  const isPlaced = Number.isFinite(level_m) && typeof from_m === "number" && !Number.isNaN(from_m);
  return isPlaced && Array.isArray(bed) && bed.every(isPoint);
}

function cellCount({ earth }: CrossSectionEarth): number {
  return (earth.x_m.length - 1) * (earth.depth_m.length - 1);
}

function shapeFaultsAt(shape: unknown, path: string): readonly Fault[] {
  return shapeFaults((shape ?? {}) as EmbankmentShape).map((fault) => ({
    ...fault,
    path: fault.path.replace(/^shape/, path),
  }));
}
