import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { InputFault } from "../failure.js";

/** A decision that holds for every reach. */
export interface InventoryDecision {
  readonly name: string;
  readonly value: unknown;
  readonly because: string;
}

const FILE = "decisions.json";

/** The decisions of an inventory's `decisions.json`; none without one. All faults at once. */
export async function readDecisions(folder: string): Promise<readonly InventoryDecision[]> {
  const text = await readFile(join(folder, FILE), "utf8").catch((error: NodeJS.ErrnoException) => {
    if (error.code === "ENOENT") return "[]";
    throw new InputFault([`${FILE}: cannot be read (${error.code ?? error.message})`]);
  });
  const entries = parsed(text);
  const faults = entries.flatMap((entry, i) => faultsOf(entry, `${FILE}: [${i}]`));
  if (faults.length > 0) throw new InputFault(faults);
  return entries as readonly InventoryDecision[];
}

function parsed(text: string): readonly unknown[] {
  let content: unknown;
  try {
    content = JSON.parse(text);
  } catch (error) {
    throw new InputFault([`${FILE}: must be JSON (${(error as Error).message})`]);
  }
  if (!Array.isArray(content)) throw new InputFault([`${FILE}: must be a list of decisions`]);
  return content;
}

function faultsOf(entry: unknown, at: string): readonly string[] {
  if (typeof entry !== "object" || entry === null) {
    return [`${at}: must be an object with name, value and because, got ${JSON.stringify(entry)}`];
  }
  const { name, because } = entry as Partial<InventoryDecision>;
  const texts = { name, because };
  return [
    ...Object.entries(texts).flatMap(([field, value]) =>
      typeof value === "string" && value.trim() !== ""
        ? []
        : [`${at}.${field}: must be a text, got ${JSON.stringify(value) ?? "nothing"}`],
    ),
    ...("value" in entry ? [] : [`${at}.value: must be there, got nothing`]),
  ];
}
