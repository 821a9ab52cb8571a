/** Errors of syntax have numbers below. */
export const firstTypeError = 2000;

const untypedModule = 7016;
const namingInferredTypes = [2526, 2527, 2742, 2883, 7056];

/**
 * True for findings of the type checker that do not stop a cell: a package without type
 * declarations is `any`; an inferred type that a declaration file could not name is carried on as
 * `any` (codes 4000–4103 are all of that kind).
 */
export function isTolerated(code: number): boolean {
  if (code === untypedModule || namingInferredTypes.includes(code)) return true;
  return code >= 4000 && code <= 4103;
}
