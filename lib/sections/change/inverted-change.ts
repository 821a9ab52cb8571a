import type { ResistivityLine } from "../../survey/resistivity-line.js";
import { cellStatistics } from "../invert/cell-statistics.js";
import { gaussNewton, type Inverted } from "../invert/gauss-newton.js";
import { type Linearised, linearised, withColumns } from "../invert/linearised.js";
import { type PosteriorDraws, posteriorDraws } from "../invert/posterior-draws.js";
import { Progress } from "../invert/progress.js";
import { firstDraw, looserPrior, type SectionPrior } from "../invert/sampler.js";
import { predictedOf } from "../invert/section-data.js";
import { columnSurface, type SectionProblem, sectionProblem } from "../invert/section-problem.js";
import { electrodePotentialsOf, type Turn } from "../model/section-model.js";
import { campaignsOf, ofCampaign } from "../readings/of-campaign.js";
import { screenLine } from "../readings/screen-line.js";
import { screenSettings } from "../screen-settings.js";
import { changedBodies, changedCells } from "./changed.js";
import type { SectionChangeOptions } from "./options.js";
import { type PairedLines, pairedLines } from "./paired-lines.js";
import type { SectionChange } from "./section-change.js";

const EXPECTED_RUNS = 11;
/** Times that the difference of two forward runs is taken about the change found before. */
const REFINEMENTS = 2;

/**
 * With m the mean of both sections and δ their difference, the mean of two readings of one spread
 * answers to m and their difference to δ alone, and the errors of the two are independent: so m is
 * inverted first, then δ with the answers at m, its nonlinearity by forward runs at m ± δ/2.
 */
export async function invertedChange(
  line: ResistivityLine,
  used: SectionChangeOptions,
): Promise<SectionChange> {
  const [earlier, later] = campaignPair(line, used);
  const screened = (campaign: string | null) =>
    screenLine(ofCampaign(line, campaign), screenSettings(used));
  const paired = pairedLines(screened(earlier), screened(later));
  const problem = sectionProblem(paired.mean, { ...used, campaign: null });
  const parts = EXPECTED_RUNS * problem.model.transform.k_per_m.length + used.draws / 10;
  const progress = new Progress(Math.ceil(parts), used.progress);
  const settings = { ...used, turn: () => progress.part() };
  const mean = await gaussNewton(problem, settings);
  const prior = changePrior(problem, used);
  const start = { problem, mean, paired, prior };
  const form = await changeForm(start, settings);
  const change: Inverted = { ...mean, form, draw: firstDraw(prior) };
  const drawn = await posteriorDraws(change, prior, settings);
  progress.end();
  const labels = { earlier: earlier ?? "", later: later ?? "" };
  return { ...labels, ...placeOf(line), ...valuesOf({ ...start, form, drawn }, used) };
}

/** The labels of the earlier and the later campaign. */
export function campaignPair(
  line: ResistivityLine,
  { earlier, later }: Pick<SectionChangeOptions, "earlier" | "later">,
): readonly [string | null, string | null] {
  const [first = null, second = null] = campaignsOf(line);
  return [earlier ?? first, later ?? second];
}

/** Degrees of freedom of differences of change between cells: most of the ground stays. */
const FREEDOM = 3;
const SMOOTHNESS = 2;

function changePrior({ prior }: SectionProblem, { changeSd }: SectionChangeOptions): SectionPrior {
  const precision = (changeSd * Math.LN10) ** -2;
  return {
    ...prior,
    freedom: FREEDOM,
    ratio: SMOOTHNESS ** -2,
    anchor: prior.anchor.map(() => precision),
    centre: new Float64Array(prior.anchor.length),
  };
}

interface ChangeStart {
  readonly problem: SectionProblem;
  readonly mean: Inverted;
  readonly paired: PairedLines;
  readonly prior: SectionPrior;
}

type Settings = SectionChangeOptions & { readonly turn: Turn };

/** The differences' misfit as a quadratic form in δ, about the change found on the way. */
async function changeForm(start: ChangeStart, settings: Settings): Promise<Linearised> {
  const { mean, paired, prior } = start;
  const n = paired.difference.length;
  // Ties, which follow readings, are known in both campaigns: they say nothing of the change.
  const { jacobian: all, residual: both } = mean.residuals;
  const jacobian = withColumns(all, { from: both.length, to: n });
  const loose = looserPrior(prior, firstDraw(prior));
  let change = new Float64Array(mean.logResistivity.length);
  let answered = new Float64Array(n);
  for (let round = 0; ; round++) {
    const residual = paired.difference.map((value, i) => value - answered[i]!);
    const weight = robustWeights(residual, paired.sd, settings);
    const form = linearised(change, { residual, weight, jacobian }, loose);
    if (round === REFINEMENTS) return form;
    const draw = firstDraw(prior);
    const few = { ...settings, draws: 50 };
    const { logResistivity } = await posteriorDraws({ ...mean, form, draw }, prior, few);
    change = cellStatistics(logResistivity).mean as Float64Array<ArrayBuffer>;
    answered = await answerTo(start, change, settings.turn);
  }
}

/** Beyond so many standard deviations a difference counts by its size. */
const ROBUST = 2;

function robustWeights(
  residual: Float64Array,
  sd: Float64Array,
  { dataNorm }: SectionChangeOptions,
): Float64Array {
  return sd.map((value, i) => {
    const away = Math.abs(residual[i]!) / value;
    return (dataNorm === "robust" ? Math.min(1, ROBUST / away) : 1) / value ** 2;
  });
}

/** ln of later over earlier apparent resistivity of two sections, δ apart about their mean. */
async function answerTo(
  { problem, mean }: ChangeStart,
  change: Float64Array,
  turn: Turn,
): Promise<Float64Array<ArrayBuffer>> {
  const at = async (share: number) => {
    const values = mean.logResistivity.map((value, c) => Math.exp(value + share * change[c]!));
    const settings = { withSensitivities: false, turn };
    const potentials = await electrodePotentialsOf(problem.model, values, settings);
    return predictedOf(problem.data, potentials).logApparent;
  };
  const [later, earlier] = [await at(0.5), await at(-0.5)];
  return Float64Array.from(later, (value, i) => value - earlier[i]!);
}

function placeOf({ line, runs, chainage_m, offset_m, electrodes }: ResistivityLine) {
  return { line, runs, chainage_m, offset_m, electrodes };
}

function valuesOf(
  given: ChangeStart & { readonly form: Linearised; readonly drawn: PosteriorDraws },
  { q }: SectionChangeOptions,
) {
  const { problem, paired, form, drawn } = given;
  const { mean, sd, p10, p90 } = cellStatistics(drawn.logResistivity);
  const probability = mean.map((value, c) => {
    const same = drawn.logResistivity.filter((draw) => draw[c]! * value > 0).length;
    return same / drawn.logResistivity.length;
  });
  const log10 = (values: Float64Array) => values.map((value) => value / Math.LN10);
  const noise = Math.sqrt(drawn.strengths.noise);
  const cells = {
    ...problem.model.cells,
    ...{ log10Ratio: log10(mean), log10Sd: log10(sd), probability },
    p10: p10.map(Math.exp),
    p90: p90.map(Math.exp),
    changed: changedCells(mean, probability, q),
  };
  return {
    ...{ cells, noise, unpaired: paired.unpaired, pairs: paired.difference.length },
    surface_m: columnSurface(problem.model.cells, problem.model.electrodes),
    bodies: changedBodies(cells),
    rms: Math.sqrt(form.misfit / form.count) / noise,
  };
}
