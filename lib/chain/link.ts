import type { AnyStep } from "../step/define-step.js";
import type { StepResult } from "../step/step-result.js";
import type { Survey } from "../survey/survey.js";
import type { Findings } from "./findings.js";
import type { Work } from "./work.js";

/** What a link gives to the work: one result, one a campaign, or none where data are lacking. */
export type Product = StepResult<unknown> | readonly StepResult<unknown>[] | undefined;

/** A call of a step's public function that a link asks for. */
export interface Asked {
  // biome-ignore lint/suspicious/noExplicitAny: links of every step stand in one list
  readonly call: (...args: any[]) => StepResult<any> | Promise<StepResult<any>>;
  readonly args: readonly unknown[];
}

/** What a link does: it asks for calls one after the other, and returns its product. */
// biome-ignore lint/suspicious/noExplicitAny: links of every step stand in one list
export type Asking<Made extends Product = Product> = Generator<Asked, Made, StepResult<any>>;

/** Asks for one call of a step's public function and hands on its result. */
export function* ask<Args extends unknown[], Value>(
  call: (...args: Args) => StepResult<Value> | Promise<StepResult<Value>>,
  ...args: Args
): Asking<StepResult<Value>> {
  return yield { call, args };
}

/** Asks for one call an item, in order. */
export function* askEach<Item, Args extends unknown[], Value>(
  call: (item: Item, ...args: Args) => StepResult<Value> | Promise<StepResult<Value>>,
  items: readonly Item[],
  ...args: Args
): Asking<readonly StepResult<Value>[]> {
  const results: StepResult<Value>[] = [];
  for (const item of items) results.push(yield* ask(call, item, ...args));
  return results;
}

/** Options of one step that decisions set. */
export type Decided = Readonly<Record<string, unknown>>;

/** What a step will have to work with. */
export interface Readiness {
  /** False where the step has nothing to work with. */
  readonly ready: boolean;
  readonly text: string;
  /** What it cannot do for want of data; "" where nothing is lacking. */
  readonly cannot: string;
}

/** One place of a step in the chain: what it takes and gives, and what a reader is told of it. */
export interface Link {
  readonly step: AnyStep;
  /** The name of its product in the work. */
  readonly gives: string;
  /** Names of the products that it rests on. */
  readonly takes: readonly string[];
  /** Steps whose decided options it hands on with `work.decisions`, besides its own. */
  readonly carries?: readonly AnyStep[];
  /** Applies the step to what the work holds, under the options that are decided. */
  readonly run: (work: Work, decided: Decided) => Asking;
  /** True where it calls no step and only picks from what is there. */
  readonly isPick?: true;
  /** The step's short name where readiness is told, and what it needs of a survey. */
  readonly readiness?: { readonly step: string; readonly of: (survey: Survey) => Readiness };
  /** What a result is about, for provenance: a campaign, a pair; default "". */
  // biome-ignore lint/suspicious/noExplicitAny: each link knows its own results
  readonly about?: (result: StepResult<any>) => string;
  /** Options by which its product was made, where its results do not say so themselves. */
  readonly used?: (work: Work) => Readonly<Record<string, unknown>>;
  /** Its part of the findings. */
  readonly findings?: (work: Work) => Partial<Findings> & { readonly [name: string]: unknown };
  /** Why it gave nothing, as a caution; null where it gave something or nothing need be said. */
  readonly absent?: (work: Work) => string | null;
  /** What the data did not let it answer, for the first screen; a sentence each. */
  readonly unanswered?: (work: Work) => readonly string[];
  /** What is different in its product, in words; null where nothing that has a name is. */
  readonly effect?: (before: Work, after: Work) => string | null;
  /** Names of the findings in its product. */
  readonly names?: (work: Work) => readonly string[];
  /** Names of those that its product no longer holds. */
  readonly lost?: (before: Work, after: Work) => readonly string[];
}

/** A link's product by its name; a work is read so where any link of the list may be meant. */
export function productOf(work: Work, gives: string): Product {
  return (work as unknown as Readonly<Record<string, Product>>)[gives];
}

/** A link's results, one after the other. */
export function resultsOf(
  work: Work,
  { gives }: Pick<Link, "gives">,
): readonly StepResult<unknown>[] {
  const product = productOf(work, gives);
  if (product === undefined) return [];
  return Array.isArray(product) ? product : [product as StepResult<unknown>];
}

/** The work with one more product, or another in its place. */
export function withProduct(work: Work, gives: string, product: Product): Work {
  if (product !== undefined) return { ...work, [gives]: product };
  const rest = Object.entries(work).filter(([name]) => name !== gives);
  return Object.fromEntries(rest) as unknown as Work;
}
