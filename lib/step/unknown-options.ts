import { type Fault, quoted } from "./step-error.js";

/** A fault for each option that is none of the step's: a misspelt option must not pass unheard. */
export function unknownOptions(options: object, known: object): Fault[] {
  return Object.keys(options)
    .filter((name) => !(name in known))
    .map((name) => ({
      code: "option-unknown",
      path: `options.${name}`,
      expected: `one of ${Object.keys(known).join(", ")}`,
      received: quoted(name),
    }));
}
