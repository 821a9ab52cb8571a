/** One fault of an input or an option, as data. */
export interface Fault {
  /** A short stable code, such as "option-range" or "missing-column". */
  readonly code: string;
  /** Where: an argument (`options.minLength_m`) or a place in a file (`readings.csv row 12`). */
  readonly path: string;
  /** The rule that was broken, to be read after "must be". */
  readonly expected: string;
  /** The value that was found, as text. */
  readonly received: string;
  /** A likely cause, where one can be guessed. */
  readonly hint?: string;
}

/** Thrown by a step on bad input: every fault it found, not only the first. */
export class StepError extends Error {
  override readonly name = "StepError";
  readonly step: string;
  readonly faults: readonly Fault[];

  constructor(step: string, faults: readonly Fault[]) {
    super(faults.map((fault) => faultText(step, fault)).join("\n"));
    this.step = step;
    this.faults = faults;
  }
}

/** `<step>: <path> must be <rule>, got <value> (<hint>)`. */
export function faultText(step: string, fault: Fault): string {
  const hint = fault.hint === undefined ? "" : ` (${fault.hint})`;
  return `${step}: ${fault.path} must be ${fault.expected}, got ${fault.received}${hint}`;
}

/** A value as it is quoted in a fault: strings in quotes, long ones shortened. */
export function quoted(value: unknown): string {
  const text = typeof value === "string" ? JSON.stringify(value) : String(value);
  return text.length > 60 ? `${text.slice(0, 57)}…` : text;
}
