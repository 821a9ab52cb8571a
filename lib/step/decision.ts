import { frozen } from "./frozen.js";
import type { DisplayBundle } from "./show/display.js";
import { escapeHtml } from "./show/html.js";
import { type Fault, quoted, StepError } from "./step-error.js";

export interface DecisionReasons<Value> {
  /** Why this value and no other, as a reviewer will read it. At least a few words. */
  readonly because: string;
  /** The values that could have been chosen instead; the robustness table tries them. */
  readonly alternatives?: readonly Value[];
}

/**
 * An interpretation decision on the record: what was decided, why, and what else was possible.
 * It shows itself in a notebook; use `.value` where the decision is applied.
 */
export class Decision<Value = unknown> {
  readonly name: string;
  readonly value: Value;
  readonly because: string;
  readonly alternatives: readonly Value[];

  constructor(name: string, value: Value, reasons: DecisionReasons<Value>) {
    this.name = name;
    this.value = frozen(value);
    this.because = reasons.because.trim();
    this.alternatives = frozen([...(reasons.alternatives ?? [])]);
    Object.freeze(this);
  }

  [Symbol.for("Jupyter.display")](): DisplayBundle {
    return { "text/html": decisionHtml(this), "text/plain": decisionText(this) };
  }
}

/** The literal type's general type: decide("x", 40, …) holds a number, not 40. */
export type Widened<Value> = Value extends number
  ? number
  : Value extends string
    ? string
    : Value extends boolean
      ? boolean
      : Value;

/**
 * Puts an interpretation decision on the record.
 *
 * A name of the form `step.option` (`segmentBlocks.minLength_m`) tells `interpret` which option of
 * which step the decision sets, and the robustness table which one to vary; any other name is kept
 * on the record as it is.
 *
 * @param name - what is decided; not blank.
 * @param value - the value chosen.
 * @param reasons - `because` (required, not blank) and `alternatives` (default none).
 * @returns the decision; `.value` is what was chosen.
 * @throws StepError when the name or the reason is blank.
 * @example
 * decide("segmentBlocks.minLength_m", 40, { because: "Repairs are longer." }).value; // 40
 */
export function decide<const Value>(
  name: string,
  value: Value,
  reasons: DecisionReasons<Widened<Value>>,
): Decision<Widened<Value>> {
  const faults: Fault[] = [];
  if (typeof name !== "string" || name.trim() === "") faults.push(blank("name", name));
  const because: unknown = reasons?.because;
  if (typeof because !== "string" || because.trim() === "") {
    faults.push(blank("because", because));
  }
  if (faults.length > 0) throw new StepError("decide", faults);
  return new Decision(name.trim(), value as Widened<Value>, reasons);
}

function blank(path: string, received: unknown): Fault {
  return { code: "blank", path, expected: "a few words", received: quoted(received) };
}

/** A decided value as it is read: lists joined, objects as name: value pairs. */
export function decidedText(value: unknown): string {
  if (Array.isArray(value)) return value.map(decidedText).join(", ");
  if (typeof value === "object" && value !== null) {
    return Object.entries(value)
      .map(([key, inner]) => `${key}: ${decidedText(inner)}`)
      .join("; ");
  }
  return String(value);
}

function alternativesText(decision: Decision): string {
  if (decision.alternatives.length === 0) return "No alternative was named.";
  return `Alternatives: ${decision.alternatives.map(decidedText).join(" · ")}.`;
}

function decisionText(decision: Decision): string {
  const head = `Decided: ${decision.name} = ${decidedText(decision.value)}`;
  return `${head}\nBecause: ${decision.because}\n${alternativesText(decision)}`;
}

function decisionHtml(decision: Decision): string {
  const name = escapeHtml(decision.name);
  const value = escapeHtml(decidedText(decision.value));
  return (
    `<div class="bq-decision"><p><strong>Decided: ${name} = ${value}.</strong> ` +
    `${escapeHtml(decision.because)} <em>${escapeHtml(alternativesText(decision))}</em></p></div>`
  );
}
