import { relative } from "node:path";
import { type DisplayOutput, displayOutput } from "./outputs.js";

/** Tells that TypeScript files have changed and were loaded again. */
export function reloadOutput(paths: readonly string[], folder: string): DisplayOutput {
  const names = paths.map((path) => `"${relative(folder, path)}"`).join(", ");
  const [have, were] = paths.length === 1 ? ["has", "was"] : ["have", "were"];
  const text =
    `${names} ${have} changed and ${were} loaded again. ` +
    "Cells that imported from there before keep the earlier state until they run again.";
  return {
    ...displayOutput({ "text/plain": text }),
    metadata: { banquette: { notice: "reload" } },
  };
}
