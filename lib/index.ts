// The only door to the library: every public name, in the order of the work.

export type * from "./blocks/blocks.js";
export type * from "./campaigns/changes.js";
export type * from "./depth/depth-slices.js";
export type { Accounting, SetAsideCount } from "./result/account.js";
export { closes, setAsideTotal } from "./result/account.js";
export type { DisplayBundle } from "./result/display.js";
export type { Figure, Table, TableColumn, TableRow, VegaLiteSpec } from "./result/figure.js";
export type { Basis, Caution, StepAccount } from "./result/step-account.js";
export type { Fault } from "./result/step-error.js";
export { StepError } from "./result/step-error.js";
export { type Given, resultValue, StepResult } from "./result/step-result.js";
export type * from "./survey/survey.js";
