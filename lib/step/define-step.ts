import type { Accounting } from "./account.js";
import type { Figure, Table } from "./figure.js";
import { heard, type Tell } from "./heard-progress.js";
import type { OptionSpecs, OptionsOf } from "./options/option.js";
import { optionFaults, resolved, shownOptions, soundOptions } from "./options/resolve.js";
import type { Basis } from "./step-account.js";
import { type Fault, StepError } from "./step-error.js";
import { StepResult } from "./step-result.js";

/** What a step says of what it did; a list that is left out is empty. */
export interface StepReport<Value> {
  readonly value: Value;
  /** What was done and found, in one or two plain sentences. */
  readonly summary: string;
  readonly basis?: readonly Basis[];
  readonly cautions?: readonly string[];
  /** Left out where a step handles no readings. */
  readonly accounting?: Accounting | null;
  readonly figures?: readonly Figure[];
  readonly tables?: readonly Table[];
}

/** The one definition of a step. `Made` is what its work gives before it is reported on. */
export interface StepDefinition<Input, Specs extends OptionSpecs, Made, Value> {
  /** The public function's name, such as "correctDrift". */
  readonly name: string;
  readonly options: Specs;
  /** Faults of the input, and of options that are sound each for itself but not together. */
  readonly faults?: (input: Input, used: OptionsOf<Specs>) => readonly Fault[];
  /** The work: it assumes sound input and changes nothing that it was given. */
  readonly run: (input: Input, used: OptionsOf<Specs>) => Made;
  readonly report: (made: Awaited<Made>, used: OptionsOf<Specs>, input: Input) => StepReport<Value>;
}

/** A definition of which only the name and the options matter. */
export interface AnyStep {
  readonly name: string;
  readonly options: OptionSpecs;
}

/** A step's one definition, its types inferred from its parts. */
export function defineStep<Input, Specs extends OptionSpecs, Made, Value>(
  definition: StepDefinition<Input, Specs, Made, Value>,
): StepDefinition<Input, Specs, Made, Value> {
  return Object.freeze(definition);
}

/** Checks, runs and reports; throws a StepError with every fault of input and options. */
export function runStep<Input, Specs extends OptionSpecs, Made, Value>(
  step: StepDefinition<Input, Specs, Made, Value> & AtOnce<Made>,
  input: Input,
  options: Partial<OptionsOf<Specs>>,
): StepResult<Value> {
  const used = checkedOptions(step, input, options);
  return resultOf(step, { input, used, made: step.run(input, used) as Awaited<Made> });
}

/** Work that gives a promise asks for `runLongStep`. */
type AtOnce<Made> = Made extends PromiseLike<unknown> ? { readonly run: never } : unknown;

/** The same for a step whose work takes turns with the rest of the process. */
export async function runLongStep<Input, Specs extends OptionSpecs, Made, Value>(
  step: StepDefinition<Input, Specs, Made, Value>,
  input: Input,
  options: Partial<OptionsOf<Specs>>,
): Promise<StepResult<Value>> {
  const used = checkedOptions(step, input, options);
  return heard(step.name, async (tell) => {
    const made = await step.run(input, { ...used, ...progressIn(step.options, used, tell) });
    return resultOf(step, { input, used, made });
  });
}

/** Who is told the progress, where the step has an option for it and nobody was named. */
function progressIn(
  specs: OptionSpecs,
  used: Readonly<Record<string, unknown>>,
  tell: Tell | null,
): Readonly<Record<string, Tell | null>> {
  const isOpen = specs.progress?.role === "progress" && used.progress === null;
  return isOpen ? { progress: tell } : {};
}

/** What is checked of a step, or of a function that makes no result of its own. */
export type Checked<Input, Specs extends OptionSpecs> = Pick<
  StepDefinition<Input, Specs, unknown, unknown>,
  "name" | "options" | "faults"
>;

/**
 * The options as resolved; throws a StepError with every fault of input and options. Together, and
 * with the input, they are looked at only where each is sound for itself: the default stands in for
 * one that is not.
 */
export function checkedOptions<Input, Specs extends OptionSpecs>(
  step: Checked<Input, Specs>,
  input: Input,
  given: Partial<OptionsOf<Specs>>,
): OptionsOf<Specs> {
  const used = resolved(step.options, soundOptions(step.options, given));
  const faults = [...optionFaults(step.options, given), ...(step.faults?.(input, used) ?? [])];
  if (faults.length > 0) throw new StepError(step.name, faults);
  return used;
}

interface Done<Input, Used, Made> {
  readonly input: Input;
  readonly used: Used;
  readonly made: Made;
}

function resultOf<Input, Specs extends OptionSpecs, Made, Value>(
  step: StepDefinition<Input, Specs, Made, Value>,
  { input, used, made }: Done<Input, OptionsOf<Specs>, Awaited<Made>>,
): StepResult<Value> {
  const report = step.report(made, used, input);
  return new StepResult({
    step: step.name,
    summary: report.summary,
    value: report.value,
    used: shownOptions(step.options, used),
    basis: report.basis ?? [],
    cautions: (report.cautions ?? []).map((text) => ({ step: step.name, text })),
    accounting: report.accounting ?? null,
    figures: report.figures ?? [],
    tables: report.tables ?? [],
  });
}
