import { describe, expect, it } from "vitest";
import { blocksHtml } from "../../../lib/document/html/block-html.js";
import type { AppendixOutput } from "../../../lib/document/model/notebook.js";
import { outputBlocks } from "../../../lib/document/model/output-blocks.js";

const shown = (output: AppendixOutput) => blocksHtml(outputBlocks(output));
const data = (bundle: Readonly<Record<string, unknown>>) =>
  ({ output_type: "display_data", data: bundle }) as AppendixOutput;

describe("outputBlocks", () => {
  it.each([
    ["HTML before text", { "text/html": "<b>a</b>", "text/plain": "a" }, "<b>a</b>"],
    ["markdown before text", { "text/markdown": "*a*", "text/plain": "a" }, "<em>a</em>"],
    ["text", { "text/plain": "1 < 2" }, "1 &lt; 2"],
    ["a text of words as a sentence", { "text/plain": "'No line.'" }, "<p>No line.</p>"],
    ["JSON of what it does not know", { "application/json": { a: 1 } }, "{\n  &quot;a&quot;: 1\n}"],
    ["that there is nothing", {}, "(empty output)"],
  ])("shows %s", (_, bundle, html) => {
    expect(outputBlocks(data(bundle)).some(({ kind }) => kind === "figure")).toBe(false);
    expect(shown(data(bundle))).toContain(html);
  });

  it("cleans HTML, keeps an author's own as it is for the page and as blocks for the paper", () => {
    const [block] = outputBlocks(data({ "text/html": "<b onclick=x()>a</b><script>x</script>" }));
    expect(block).toEqual({
      kind: "foreign",
      html: "<b>a</b>",
      blocks: [
        {
          kind: "paragraph",
          role: "plain",
          content: [{ kind: "marked", mark: "strong", content: ["a"] }],
        },
      ],
    });
    expect(shown(data({ "text/html": "<b>a</b>" }))).toBe('<div class="output"><b>a</b></div>');
  });

  it("knows a figure by its title", () => {
    const [figure] = outputBlocks(data({ "image/svg+xml": "<svg></svg>", "text/plain": "Bank" }));
    expect(figure).toMatchObject({ kind: "figure", title: "Bank", spec: null });
    expect(blocksHtml([{ ...figure!, id: "figure-7", number: 7 } as never])).toContain(
      '<figure id="figure-7">\n<div class="drawing"><svg role="img" aria-label="Bank"></svg>',
    );
  });

  it("says what was written to standard error, and takes terminal colours off", () => {
    const stream = (name: "stdout" | "stderr") =>
      shown({ output_type: "stream", name, text: ["\u001b[31mred\u001b[0m ", "<b>"] });
    expect(stream("stdout")).toBe('<pre class="output stream">red &lt;b&gt;</pre>');
    expect(stream("stderr")).toContain("Written to standard error</p>\n<pre>red &lt;b&gt;</pre>");
  });

  it("shows the trace of an error, or its message where there is none", () => {
    const error = (traceback: readonly string[]) =>
      shown({ output_type: "error", ename: "TypeError", evalue: "no", traceback });
    expect(error(["line 1", "line 2"])).toContain("<pre>line 1\nline 2</pre>");
    expect(error([])).toContain("<pre>TypeError: no</pre>");
  });
});
