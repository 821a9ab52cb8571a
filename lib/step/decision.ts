import { frozen } from "./frozen.js";
import type { DisplayBundle } from "./show/display.js";
import { escapeHtml } from "./show/html.js";
import { type Fault, quoted, StepError } from "./step-error.js";

/** Why a decision was made, and what else it could have been. */
export type DecisionReasons<Value> = OwnReasons<Value> | ProposedReasons<Value>;

/** A decision with the author's own reason. */
export interface OwnReasons<Value> extends Alternatives<Value> {
  /** Why this value and no other, as a reviewer will read it. At least a few words. */
  readonly because: string;
  readonly proposed?: never;
}

/** A decision with the reason that the tool proposes, until the author writes `because`. */
export interface ProposedReasons<Value> extends Alternatives<Value> {
  readonly proposed: string;
  readonly because?: never;
}

interface Alternatives<Value> {
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
  /** True where the reason is still the one that the tool proposes. */
  readonly isProposal: boolean;
  readonly alternatives: readonly Value[];

  constructor(name: string, value: Value, reasons: DecisionReasons<Value>) {
    this.name = name;
    this.value = frozen(value);
    this.isProposal = reasons.because === undefined;
    this.because = (reasons.because ?? reasons.proposed).trim();
    this.alternatives = frozen([...(reasons.alternatives ?? [])]);
    Object.freeze(this);
  }

  /** What a notebook keeps once the decision has been shown. */
  [Symbol.for("banquette.record")](): { readonly name: string; readonly value: Value } {
    return { name: this.name, value: this.value };
  }

  [Symbol.for("Jupyter.display")](): DisplayBundle {
    return { "text/html": decisionHtml(this), "text/plain": decisionText(this) };
  }
}

/** Numbers and yes or no by their general type; a word stays one of those that were named. */
export type Widened<Value> = Value extends number
  ? number
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
 * @param reasons - `because`, the author's own reason, or `proposed`, the one that the tool
 *   proposes until the author writes his; one of the two, not blank. And `alternatives` (default
 *   none).
 * @returns the decision; `.value` is what was chosen.
 * @throws StepError when the name or the reason is blank.
 * @example
 * decide("segmentBlocks.minLength_m", 40, { because: "Repairs are longer." }).value; // 40
 */
export function decide<const Value, const Other = never>(
  name: string,
  value: Value,
  reasons: DecisionReasons<Other>,
): Decision<Widened<Value | Other>> {
  const faults: Fault[] = [];
  if (typeof name !== "string" || name.trim() === "") faults.push(blank("name", name));
  faults.push(...reasonFaults(reasons ?? {}));
  if (faults.length > 0) throw new StepError("decide", faults);
  return new Decision(name.trim(), value as Widened<Value | Other>, reasons as never);
}

function reasonFaults({
  because,
  proposed,
}: Partial<Record<"because" | "proposed", unknown>>): Fault[] {
  if (because !== undefined && proposed !== undefined) {
    const expected = "left out where there is a reason of one's own in because";
    return [{ code: "two-reasons", path: "proposed", expected, received: quoted(proposed) }];
  }
  const reason = because ?? proposed;
  return typeof reason === "string" && reason.trim() !== "" ? [] : [blank("because", reason)];
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
  return `${head}\n${reasonHead(decision)}: ${decision.because}\n${alternativesText(decision)}`;
}

function reasonHead({ isProposal }: Decision): string {
  return isProposal ? "Proposed by the tool, not yet by the author" : "Because";
}

function decisionHtml(decision: Decision): string {
  const name = escapeHtml(decision.name);
  const value = escapeHtml(decidedText(decision.value));
  return (
    `<div class="bq-decision"><p><strong>Decided: ${name} = ${value}.</strong> ` +
    `${decision.isProposal ? `<em>${reasonHead(decision)}:</em> ` : ""}` +
    `${escapeHtml(decision.because)} <em>${escapeHtml(alternativesText(decision))}</em></p></div>`
  );
}
