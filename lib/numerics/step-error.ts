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

/** A value as a fault quotes it: strings in quotes, lists and objects opened, long ones cut. */
export function quoted(value: unknown): string {
  const text = written(value, 2);
  return text.length > 60 ? `${text.slice(0, 57)}…` : text;
}

function written(value: unknown, levels: number): string {
  if (typeof value === "string") return JSON.stringify(value);
  if (typeof value !== "object" || value === null || levels === 0) return String(value);
  const inner = (one: unknown) => written(one, levels - 1);
  if (Array.isArray(value)) return `[${value.slice(0, 30).map(inner).join(", ")}]`;
  if (Object.getPrototypeOf(value) !== Object.prototype) return String(value);
  return `{ ${Object.entries(value)
    .map(([name, one]) => `${name}: ${inner(one)}`)
    .join(", ")} }`;
}
