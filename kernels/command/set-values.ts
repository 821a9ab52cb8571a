import type { Parameters } from "../notebook/parameters.js";
import { UsageFault } from "./failure.js";

const nameAndValue = /^([\p{ID_Start}$_][\p{ID_Continue}$]*)=(.*)$/su;

/** `name=value` words as parameters: a value that is JSON is read as JSON, any other is a text. */
export function setValues(words: readonly string[]): Parameters {
  const entries = words.map((word) => {
    const [, name, value] = nameAndValue.exec(word) ?? [];
    if (name === undefined || value === undefined) {
      throw new UsageFault(`--set must be name=value, got "${word}"`);
    }
    return [name, jsonOrText(value)] as const;
  });
  return Object.fromEntries(entries);
}

function jsonOrText(value: string): unknown {
  try {
    return JSON.parse(value);
  } catch {
    return value;
  }
}
