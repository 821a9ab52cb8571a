import type { ResistivityLine } from "../survey/resistivity-line.js";
import { cellStatistics } from "./invert/cell-statistics.js";
import { gaussNewton, type Inverted } from "./invert/gauss-newton.js";
import { type PosteriorDraws, posteriorDraws } from "./invert/posterior-draws.js";
import { Progress } from "./invert/progress.js";
import { columnSurface, type SectionProblem, sectionProblem } from "./invert/section-problem.js";
import { cellSensitivity, leftOutMisfit, referenceShare, resolvedNumbers } from "./invert/trust.js";
import { ofCampaign } from "./readings/of-campaign.js";
import { type ScreenedLine, screenLine } from "./readings/screen-line.js";
import { reliableCells, reliableDepth } from "./reliable.js";
import { screenSettings } from "./screen-settings.js";
import type { Section, SectionReading, SectionValues } from "./section.js";
import type { InvertSectionOptions } from "./section-options.js";
import { waterShare } from "./water/water-share.js";

/** A section and what its readings' screening found to say. */
export interface InvertedSection {
  readonly section: Section;
  readonly remarks: readonly string[];
}

/** Forward runs that are reckoned with, for progress. */
const EXPECTED_RUNS = 6;

export async function invertedSection(
  line: ResistivityLine,
  used: InvertSectionOptions,
): Promise<InvertedSection> {
  const chosen = ofCampaign(line, used.campaign);
  const screened = screenLine(chosen, screenSettings(used));
  const problem = sectionProblem(screened, used);
  const parts = EXPECTED_RUNS * problem.model.transform.k_per_m.length + used.draws / 10;
  const progress = new Progress(Math.ceil(parts), used.progress);
  const settings = { ...used, turn: () => progress.part() };
  const inverted = await gaussNewton(problem, settings);
  const drawn = await posteriorDraws(inverted, problem.prior, settings);
  const cells = sectionValues(problem, { inverted, drawn }, used);
  const water = await waterShare(problem, inverted, settings.turn);
  progress.end();
  const fitted = { screened, problem, inverted, drawn };
  const known = { ...fitOf(fitted), ...trustOf(fitted, cells) };
  const section = { ...placeOf(chosen), cells, ...known, water };
  return { section, remarks: screened.remarks };
}

function placeOf(line: ResistivityLine) {
  const { line: name, runs, chainage_m, offset_m, electrodes, readings } = line;
  return {
    ...{ line: name, runs, chainage_m, offset_m, electrodes },
    campaign: readings[0]?.campaign ?? null,
  };
}

interface Fitted {
  readonly screened: ScreenedLine;
  readonly problem: SectionProblem;
  readonly inverted: Inverted;
  readonly drawn: PosteriorDraws;
}

function fitOf({ screened, problem, inverted, drawn }: Fitted) {
  const noise = Math.sqrt(drawn.strengths.noise);
  const resolved = resolvedNumbers(inverted, problem.prior, drawn.strengths);
  const count = problem.inUse.length;
  const free = Math.sqrt(count / Math.max(1, count - resolved));
  const history = inverted.history.map((rms) => (rms * free) / noise);
  const factors = problem.shapeFactor;
  const isShaped = factors.some((factor) => factor !== 1);
  return {
    readings: readingsOf({ screened, problem, inverted, drawn }),
    errors: screened.errors,
    ...{ noise, resolved, history },
    rms: history.at(-1) ?? Number.NaN,
    iterations: history.length - 1,
    shapeFactors: isShaped ? ([Math.min(...factors), Math.max(...factors)] as const) : null,
  };
}

function trustOf({ problem, inverted, drawn }: Fitted, cells: SectionValues) {
  const { prior, model, data } = problem;
  const [along, down] = drawn.strengths.variance;
  return {
    surface_m: columnSurface(model.cells, model.electrodes),
    reliableTo_m: reliableDepth(cells, model.electrodes),
    leftOut: leftOutMisfit(inverted, prior, {
      strengths: drawn.strengths,
      readings: data.sd.length,
    }),
    differences: { along: Math.sqrt(along), down: Math.sqrt(down) },
  };
}

function sectionValues(
  { model, prior }: SectionProblem,
  { inverted, drawn }: Pick<Fitted, "inverted" | "drawn">,
  used: InvertSectionOptions,
): SectionValues {
  const { mean, sd, p10, p50, p90 } = cellStatistics(drawn.logResistivity);
  const log10 = (values: Float64Array) => values.map((value) => value / Math.LN10);
  const reference = referenceShare(inverted, prior, drawn.strengths);
  const log10Sd = log10(sd);
  return {
    ...model.cells,
    ...{ log10Resistivity: log10(mean), log10Sd, reference },
    p10_ohm_m: p10.map(Math.exp),
    p50_ohm_m: p50.map(Math.exp),
    p90_ohm_m: p90.map(Math.exp),
    sensitivity: cellSensitivity(inverted),
    reliable: reliableCells({ log10Sd, reference }, used),
    draws: drawn.logResistivity.map(log10),
  };
}

function readingsOf({ screened, problem, inverted, drawn }: Fitted): SectionReading[] {
  const noise = Math.sqrt(drawn.strengths.noise);
  const { data, inUse, shapeFactor } = problem;
  const placeInUse = new Map(inUse.map((reading, n) => [reading, n]));
  return screened.readings.map((one, i) => {
    const { reading, array, x_m, medianDepth_m, apparent_ohm_m } = one;
    const n = placeInUse.get(i);
    const [known, factor] = n === undefined ? [Number.NaN, 1] : [data.sd[n]!, shapeFactor[n]!];
    const sd = known * noise;
    const away = n === undefined ? Number.NaN : inverted.residuals.residual[n]!;
    return {
      ...{ reading, array, x_m, medianDepth_m, apparent_ohm_m, sd },
      shapeFactor: factor,
      residual: away / sd,
      cause: screened.causes[i]!,
    };
  });
}
