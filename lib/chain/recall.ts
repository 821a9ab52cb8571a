import { isDeepStrictEqual } from "node:util";
import type { StepResult } from "../step/step-result.js";
import {
  type Asked,
  type Asking,
  type Decided,
  type Link,
  type Product,
  resultsOf,
} from "./link.js";
import type { Work } from "./work.js";

/** One call of a step's public function, and what it gave. */
export interface Recalled extends Asked {
  readonly result: StepResult<unknown>;
}

/** Makes the calls that a link asks for, one after the other. */
export async function carriedOut(
  asking: Asking,
  answer: (asked: Asked) => StepResult<unknown> | Promise<StepResult<unknown>>,
): Promise<Product> {
  let turn = asking.next();
  while (!turn.done) turn = asking.next(await answer(turn.value));
  return turn.value;
}

/** The calls behind the results that a work holds of one link; calls beyond them are left out. */
export function recall(link: Link, work: Work, decided: Decided): readonly Recalled[] {
  const calls: Recalled[] = [];
  if (link.isPick) return calls;
  const asking = link.run(work, decided);
  let turn = asking.next();
  for (const result of resultsOf(work, link)) {
    if (turn.done) break;
    calls.push({ ...turn.value, result });
    turn = asking.next(result);
  }
  return calls;
}

/** The answer to a call: a result that is there where the call was made before, else a new one. */
export async function answered(
  { call, args }: Asked,
  calls: readonly Recalled[],
): Promise<StepResult<unknown>> {
  const known = calls.find((one) => isDeepStrictEqual(one.args, args));
  if (known !== undefined) return known.result;
  const made = await call(...args);
  return calls.find(({ result }) => isDeepStrictEqual(result.value, made.value))?.result ?? made;
}

/** What a link without calls gives. */
export function picked(asking: Asking): Product {
  const turn = asking.next();
  return turn.done ? turn.value : undefined;
}

/** Whether two products hold the same values. */
export function sameProduct(one: Product, other: Product): boolean {
  return one === other || isDeepStrictEqual(valuesOf(one), valuesOf(other));
}

function valuesOf(product: Product): readonly unknown[] {
  if (product === undefined) return [];
  return Array.isArray(product)
    ? product.map(({ value }) => value)
    : [(product as StepResult<unknown>).value];
}
