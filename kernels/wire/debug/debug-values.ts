import type { Runtime } from "node:inspector";
import { asWritten } from "../../session/cell/marked-names.js";
import type { MainInspector } from "./main-inspector.js";

/** A variable in the words of the Debug Adapter Protocol. */
export interface DebugVariable {
  readonly name: string;
  /** What it is, in words; they tell its type, too, and front ends show them where no type is given. */
  readonly value: string;
  /** What its parts are asked for by; 0 where it has none. */
  readonly variablesReference: number;
}

/** Objects of one group are let go together. */
export const objectGroup = "banquette-debug";
/** Parts of a value that are told at the most, and characters of one. */
const mostParts = 1000;
const longestText = 500;

/** What the front end has been told of, by the numbers that it asks by. */
export class DebugValues {
  readonly #inspector: MainInspector;
  readonly #objects = new Map<number, readonly string[]>();
  #last = 0;

  constructor(inspector: MainInspector) {
    this.#inspector = inspector;
  }

  /** A number for an object of the inspector, or for several that count as one, the nearest first. */
  referenceTo(...objectIds: readonly string[]): number {
    this.#last += 1;
    this.#objects.set(this.#last, objectIds);
    return this.#last;
  }

  /** Lets go of all; numbers are not used again. */
  clear(): void {
    this.#objects.clear();
    void this.#inspector.post("Runtime.releaseObjectGroup", { objectGroup }).catch(() => undefined);
  }

  variable(name: string, value: Runtime.RemoteObject): DebugVariable {
    const isOpen = value.objectId !== undefined && value.type !== "function";
    return {
      name: asWritten(name),
      value: valueText(value),
      variablesReference: isOpen ? this.referenceTo(value.objectId as string) : 0,
    };
  }

  /** The parts of what a number stands for. */
  async parts(reference: number): Promise<readonly DebugVariable[]> {
    const objectIds = this.#objects.get(reference);
    if (objectIds === undefined) throw new Error(`no value has the number ${reference}`);
    const found = new Map<string, Runtime.RemoteObject>();
    for (const objectId of objectIds) {
      for (const [name, value] of await this.#properties(objectId)) {
        if (!found.has(name)) found.set(name, value);
      }
    }
    return [...found].slice(0, mostParts).map(([name, value]) => this.variable(name, value));
  }

  async #properties(objectId: string) {
    const { result } = await this.#inspector.post<Runtime.GetPropertiesReturnType>(
      "Runtime.getProperties",
      { objectId, ownProperties: true, generatePreview: true },
    );
    return result.flatMap(({ name, value, enumerable }) =>
      value !== undefined && enumerable ? [[name, value] as const] : [],
    );
  }
}

/** A value in words. */
export function valueText(value: Runtime.RemoteObject): string {
  if (value.type === "string") return shortened(JSON.stringify(value.value));
  if (value.unserializableValue !== undefined) return value.unserializableValue;
  if (value.subtype === "null" || value.type === "undefined") return value.subtype ?? value.type;
  if (value.type === "function") return shortened(value.description?.split("\n")[0] ?? "function");
  if (value.objectId === undefined) return String(value.value);
  const { preview, description = value.type } = value;
  if (preview === undefined || value.subtype === "error") return shortened(description);
  const isList = value.subtype === "array" || value.subtype === "typedarray";
  const parts = preview.properties.map(({ name, value: text = "…", type }) => {
    const shown = type === "string" ? JSON.stringify(text) : text;
    return isList ? shown : `${name}: ${shown}`;
  });
  if (preview.overflow) parts.push("…");
  const head = description === "Object" ? "" : `${description} `;
  const [open, close] = isList ? ["[", "]"] : ["{", "}"];
  return shortened(`${head}${open}${parts.join(", ")}${close}`);
}

function shortened(text: string): string {
  return text.length > longestText ? `${text.slice(0, longestText)}…` : text;
}
