import { inspect, types } from "node:util";

/** What a thrown value says of itself; whatever it throws when it is asked is left out. */
export interface ErrorParts {
  readonly isError: boolean;
  readonly name: string;
  readonly message: string;
  readonly stack: string;
  readonly cause: unknown;
  /** The errors that an AggregateError is made of; the two of a SuppressedError. */
  readonly errors: readonly unknown[];
}

/** Longest message, characters: a cell may throw a whole data set. */
const longest = 20_000;

export function errorParts(error: unknown): ErrorParts {
  const isError = types.isNativeError(error) || attempt(() => error instanceof Error, false);
  if (!isError) return { isError, ...thrownValue(error), stack: "", cause: undefined, errors: [] };
  const given = error as Partial<AggregateError>;
  const textOf = (key: "name" | "message" | "stack", other: string) =>
    attempt(() => String(given[key] ?? other), other);
  return {
    isError,
    name: textOf("name", "Error"),
    message: shortened(textOf("message", "")),
    stack: textOf("stack", ""),
    cause: attempt(() => given.cause, undefined),
    errors: attempt(() => errorsOf(given), []),
  };
}

interface MadeOfErrors {
  readonly name?: string;
  readonly errors?: unknown;
  readonly error?: unknown;
  readonly suppressed?: unknown;
}

function errorsOf({ name, errors, error, suppressed }: MadeOfErrors): unknown[] {
  if (name === "SuppressedError") return [error, suppressed];
  return Array.isArray(errors) ? [...errors] : [];
}

function thrownValue(value: unknown) {
  const name = typeof value === "object" && value !== null ? "Thrown object" : "Thrown value";
  const shown = () => inspect(value, { depth: 2, maxArrayLength: 20, maxStringLength: 2000 });
  const message =
    typeof value === "string" ? value : attempt(shown, "a value that cannot be shown");
  return { name, message: shortened(message) };
}

function shortened(text: string): string {
  const cut = text.length - longest;
  return cut > 0 ? `${text.slice(0, longest)}… ${cut} more characters` : text;
}

function attempt<Value>(read: () => Value, other: Value): Value {
  try {
    return read();
  } catch {
    return other;
  }
}
