import type { Fault } from "../step-error.js";
import type { OptionSpecs, OptionsOf } from "./option.js";
import { unknownNames, valueFault } from "./option-fault.js";

/** The defaults of a step's options, frozen. */
export function defaultsOf<Specs extends OptionSpecs>(specs: Specs): OptionsOf<Specs> {
  return resolved(specs, {});
}

/** What was given, and the defaults of what was left out or is undefined. */
export function resolved<Specs extends OptionSpecs>(
  specs: Specs,
  given: Partial<OptionsOf<Specs>>,
): OptionsOf<Specs> {
  const values = given as Readonly<Record<string, unknown>>;
  const used = Object.entries(specs).map(([name, option]) => {
    const value = values[name];
    if (value === undefined) return [name, option.default];
    return [name, option.role === "choice" ? copied(value) : value];
  });
  return Object.freeze(Object.fromEntries(used)) as OptionsOf<Specs>;
}

/**
 * Results freeze what they show: a list or group that the user still holds must stay the user's.
 */
function copied(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(copied);
  if (value instanceof Float64Array) return value.slice();
  if (typeof value !== "object" || value === null) return value;
  if (Object.getPrototypeOf(value) !== Object.prototype) return value;
  return Object.fromEntries(Object.entries(value).map(([name, inner]) => [name, copied(inner)]));
}

/**
 * Every fault of the options given: values outside their rule, and names that are none of the
 * step's.
 */
export function optionFaults(specs: OptionSpecs, given: unknown): readonly Fault[] {
  if (typeof given !== "object" || given === null || Array.isArray(given)) {
    return [valueFault(given, "options", "an object of options")];
  }
  return Object.entries(given).flatMap(([name, value]) => {
    const option = Object.hasOwn(specs, name) ? specs[name] : undefined;
    if (option === undefined) return unknownNames({ [name]: value }, Object.keys(specs), "options");
    return value === undefined ? [] : option.faults(value, `options.${name}`);
  });
}

/** The options given that are without fault, each for itself. */
export function soundOptions<Specs extends OptionSpecs>(
  specs: Specs,
  given: Partial<OptionsOf<Specs>>,
): Partial<OptionsOf<Specs>> {
  const sound = Object.entries(given ?? {}).filter(
    ([name, value]) => optionFaults(specs, { [name]: value }).length === 0,
  );
  return Object.fromEntries(sound) as Partial<OptionsOf<Specs>>;
}

/** The options as an account shows them: callbacks left out, data in short. */
export function shownOptions(specs: OptionSpecs, used: object): Readonly<Record<string, unknown>> {
  const values = used as Readonly<Record<string, never>>;
  const visible = Object.entries(specs).filter(
    ([, { role }]) => role !== "callback" && role !== "progress",
  );
  return Object.fromEntries(
    visible.map(([name, { shown }]) => [
      name,
      shown === undefined ? values[name] : shown(values[name] as never),
    ]),
  );
}
