import { escapeHtml } from "../step/show/html.js";

/** A cell's code, folded; on paper only the line that says which cell it was. */
export function codeHtml(source: string, executionCount: number | null): string {
  if (source.trim() === "") return "";
  const unrun = `<p class="unrun">This cell was not run.</p>`;
  const which = executionCount === null ? "not run" : `cell ${executionCount} of the notebook`;
  return [
    executionCount === null ? unrun : "",
    `<details class="made"><summary>How this was made: ${which}</summary>`,
    `<pre><code>${escapeHtml(source.trimEnd())}</code></pre></details>`,
  ].join("");
}
