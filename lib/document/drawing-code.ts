import { readFileSync } from "node:fs";
import { createRequire } from "node:module";

let code: string | null = null;

/** Vega and Vega-Lite as one script that can stand inside a page. */
export function drawingCode(): string {
  code ??= ["vega/build/vega.min.js", "vega-lite/build/vega-lite.min.js"]
    .map(readScript)
    .join("\n");
  return code;
}

function readScript(path: string): string {
  const file = createRequire(import.meta.url).resolve(path);
  return inlineScript(readFileSync(file, "utf8").replace(/\n\/\/# sourceMappingURL=.*\s*$/, "\n"));
}

/**
 * Code that cannot end the script element it stands in; the escapes mean the same to JavaScript.
 */
export function inlineScript(source: string): string {
  return source.replace(/<\/(script)/gi, "<\\/$1").replaceAll("<!--", "<\\!--");
}
