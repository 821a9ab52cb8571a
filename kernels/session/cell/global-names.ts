import { sessionGlobal } from "./made-nodes.js";

/** Names that packages look for to find out where they run: one of a user's must not answer. */
const asked =
  "window self document location define module exports importScripts root Deno Bun WorkerGlobalScope " +
  "XMLHttpRequest HTMLElement Element Node Image jQuery Java Packages print";

/** What this process begins with, what all objects have, and what packages ask for. */
const names: ReadonlySet<string> = new Set([
  ...ownNames(globalThis),
  ...asked.split(" "),
  sessionGlobal,
]);

function ownNames(holder: object | null): string[] {
  if (holder === null) return [];
  const above = Object.getPrototypeOf(holder) as object | null;
  return [...Object.getOwnPropertyNames(holder), ...ownNames(above)];
}

/** True for a name that the kernel or a package may mean when it says it. */
export function isGlobalName(name: string): boolean {
  return names.has(name);
}
