import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { packed } from "./packed.js";

let code: string | null = null;

/** Vega and Vega-Lite as one script, packed: the page unpacks it when a figure first needs it. */
export function drawingCode(): string {
  code ??= packed(
    ["vega/build/vega.min.js", "vega-lite/build/vega-lite.min.js"].map(readScript).join("\n"),
  );
  return code;
}

function readScript(path: string): string {
  const file = createRequire(import.meta.url).resolve(path);
  return readFileSync(file, "utf8").replace(/\n\/\/# sourceMappingURL=.*\s*$/, "\n");
}
