import { valueFault } from "./number.js";
import { declared, type Option, type OptionWords } from "./option.js";

/** A list of values, each of which is an option of its own. */
export function listOption<Value>(
  each: Option<Value>,
  words: OptionWords<readonly Value[]>,
): Option<readonly Value[]> {
  const rule = `a list, each ${each.rule}`;
  return declared(words, rule, (value, path) =>
    Array.isArray(value)
      ? value.flatMap((one, i) => each.faults(one, `${path}[${i}]`))
      : [valueFault(value, path, rule)],
  );
}
