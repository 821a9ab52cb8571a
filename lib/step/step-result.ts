import { closes } from "./account.js";
import { decisionNotices, type RecordedDecision } from "./decision-notices.js";
import { frozen } from "./frozen.js";
import { type DisplayBundle, displayAll, displayOne } from "./show/display.js";
import type { StepAccount } from "./step-account.js";

/** A step takes plain data or the result of the step before. */
export type Given<Value> = Value | StepResult<Value>;

/**
 * What every step returns: its value and its own account (options as resolved, basis, cautions,
 * readings kept, corrected and set aside, figures, tables). Frozen; typed arrays inside are to be
 * treated as frozen too. It shows itself in any notebook kernel that asks a value for
 * `Symbol.for("Jupyter.display")`; Banquette's own kernel asks `Symbol.for("banquette.displays")`
 * first and shows each figure as an output of its own.
 *
 * Throws a plain Error where the accounting does not add up: that is a fault of the step.
 */
export class StepResult<Value> implements StepAccount<Value> {
  readonly step: StepAccount<Value>["step"];
  readonly summary: StepAccount<Value>["summary"];
  readonly value: Value;
  readonly used: StepAccount<Value>["used"];
  readonly basis: StepAccount<Value>["basis"];
  readonly cautions: StepAccount<Value>["cautions"];
  readonly accounting: StepAccount<Value>["accounting"];
  readonly figures: StepAccount<Value>["figures"];
  readonly tables: StepAccount<Value>["tables"];

  constructor(account: StepAccount<Value>) {
    if (account.accounting !== null && !closes(account.accounting)) {
      throw new Error(`${account.step}: the account of readings does not add up`);
    }
    this.step = account.step;
    this.summary = account.summary;
    this.value = frozen(account.value);
    this.used = frozen(account.used);
    this.basis = frozen(account.basis);
    this.cautions = frozen(account.cautions);
    this.accounting = frozen(account.accounting);
    this.figures = frozen(account.figures);
    this.tables = frozen(account.tables);
    Object.freeze(this);
  }

  /** One MIME bundle: the whole account as HTML with its figures, and as plain text. */
  [Symbol.for("Jupyter.display")](): Promise<DisplayBundle> {
    return displayOne(this);
  }

  /** The same as several bundles: the account, then each figure as Vega-Lite with SVG beside it. */
  [Symbol.for("banquette.displays")](): Promise<readonly DisplayBundle[]> {
    return displayAll(this);
  }

  /** What decisions that a notebook has shown before say otherwise than this step used. */
  [Symbol.for("banquette.notices")](decisions: readonly RecordedDecision[]): readonly string[] {
    return decisionNotices(this, decisions);
  }
}

/** The plain value of what a step was given. */
export function resultValue<Value>(given: Given<Value>): Value {
  return given instanceof StepResult ? given.value : given;
}
