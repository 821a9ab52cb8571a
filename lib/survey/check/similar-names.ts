import { groupedBy } from "../../numerics/arrays.js";
import { quoted } from "../../step/step-error.js";
import type { FaultLog } from "./faults.js";

/** Notes names that differ in the case of letters, in spaces, hyphens and dots only. */
export function noteSimilarNames(
  names: Iterable<string>,
  { file, what }: { readonly file: string; readonly what: string },
  log: FaultLog,
): void {
  const distinct = [...new Set(names)].filter((name) => name !== "");
  for (const group of groupedBy(distinct, bare).values()) {
    if (group.length < 2) continue;
    const listed = group.map((name) => quoted(name)).join(" and ");
    log.caution(`${file}: ${listed} are read as ${group.length} ${what}; are they one?`);
  }
}

function bare(name: string): string {
  return name.toLowerCase().replace(/[\s._-]+/g, "");
}
