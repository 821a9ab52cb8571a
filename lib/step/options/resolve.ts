import { type Fault, quoted } from "../step-error.js";
import { nearestName } from "./nearest-name.js";
import type { AnyOption, OptionSpecs, OptionsOf } from "./option.js";

/** The defaults of a step's options, frozen. */
export function defaultsOf<Specs extends OptionSpecs>(specs: Specs): OptionsOf<Specs> {
  return Object.freeze(mapped(specs, (option) => option.default)) as OptionsOf<Specs>;
}

/** What was given, and the defaults of what was left out or is undefined. */
export function resolved<Specs extends OptionSpecs>(
  specs: Specs,
  given: Partial<OptionsOf<Specs>>,
): OptionsOf<Specs> {
  const values = given as Readonly<Record<string, unknown>>;
  return mapped(specs, (option, name) =>
    values[name] === undefined ? option.default : values[name],
  ) as OptionsOf<Specs>;
}

/** Every fault of the options given: values outside their rule, and names that are none of the step's. */
export function optionFaults(specs: OptionSpecs, given: unknown): readonly Fault[] {
  if (typeof given !== "object" || given === null) {
    const expected = "an object of options";
    return [{ code: "option-value", path: "options", expected, received: quoted(given) }];
  }
  return Object.entries(given).flatMap(([name, value]) => {
    const option = Object.hasOwn(specs, name) ? specs[name] : undefined;
    if (option === undefined) return [unknownOption(name, Object.keys(specs))];
    return value === undefined ? [] : option.faults(value, `options.${name}`);
  });
}

function unknownOption(name: string, known: readonly string[]): Fault {
  const near = nearestName(name, known);
  return {
    code: "option-unknown",
    path: `options.${name}`,
    expected: known.length === 0 ? "left out: there are no options" : `one of ${known.join(", ")}`,
    received: quoted(name),
    ...(near !== null && { hint: `did you mean ${near}?` }),
  };
}

/** The options as an account shows them: callbacks left out, data in short. */
export function shownOptions(specs: OptionSpecs, used: object): Readonly<Record<string, unknown>> {
  const values = used as Readonly<Record<string, never>>;
  const shown = Object.entries(specs).filter(([, { role }]) => role !== "callback");
  return Object.fromEntries(
    shown.map(([name, option]) => [name, option.shown?.(values[name]!) ?? values[name]]),
  );
}

function mapped(
  specs: OptionSpecs,
  of: (option: AnyOption, name: string) => unknown,
): Record<string, unknown> {
  return Object.fromEntries(Object.entries(specs).map(([name, one]) => [name, of(one, name)]));
}
