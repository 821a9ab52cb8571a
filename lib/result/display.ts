import type { StepAccount } from "./step-account.js";

/** A Jupyter MIME bundle: MIME type → text, or JSON for `+json` types. */
export type DisplayBundle = { readonly [mime: string]: unknown };

/** The account of a step as one bundle. */
export async function displayOne(account: StepAccount<unknown>): Promise<DisplayBundle> {
  return { "text/plain": account.summary };
}

/** The account of a step as a bundle, and each of its figures as one more. */
export async function displayAll(account: StepAccount<unknown>): Promise<readonly DisplayBundle[]> {
  return [await displayOne(account)];
}
