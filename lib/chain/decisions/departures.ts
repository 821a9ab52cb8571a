import { isDeepStrictEqual } from "node:util";
import type { AnyStep } from "../../step/define-step.js";
import { resolved, shownOptions } from "../../step/options/resolve.js";
import type { Decided, Link } from "../link.js";
import type { Recalled } from "../recall.js";

/** Options by which results were made, where that is neither the default, nor decided, nor wired. */
export function departures(link: Link, calls: readonly Recalled[]): Decided {
  return Object.fromEntries(
    calls.flatMap((call) => {
      const expected = expectedOptions(link.step, call.args);
      return choices(link.step)
        .filter((name) => name in call.result.used)
        .filter((name) => !isDeepStrictEqual(expected[name], call.result.used[name]))
        .map((name) => [name, call.result.used[name]] as const);
    }),
  );
}

/** Names of the options that an interpreter may choose and that are shown as they are. */
export function choices({ options }: AnyStep): readonly string[] {
  return Object.entries(options)
    .filter(([, { role, shown }]) => role === "choice" && shown === undefined)
    .map(([name]) => name);
}

/** The options that a call of the chain would have resolved to. */
function expectedOptions(step: AnyStep, args: readonly unknown[]): Decided {
  const given = args.findLast((arg) => isOptions(step, arg)) ?? {};
  return shownOptions(step.options, resolved(step.options, given as never));
}

/** Options come last in a call; an input of the step has fields that are none of its options. */
function isOptions({ options }: AnyStep, arg: unknown): boolean {
  if (typeof arg !== "object" || arg === null || Array.isArray(arg)) return false;
  return (
    Object.getPrototypeOf(arg) === Object.prototype &&
    Object.keys(arg).every((name) => name in options)
  );
}
