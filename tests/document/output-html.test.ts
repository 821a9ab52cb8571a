import { describe, expect, it } from "vitest";
import type { AppendixOutput } from "../../lib/document/notebook.js";
import { outputHtml } from "../../lib/document/output-html.js";

const shown = (output: AppendixOutput) =>
  outputHtml(output, { nextFigure: () => 7, newId: (text) => text });
const data = (bundle: Readonly<Record<string, unknown>>) =>
  shown({ output_type: "display_data", data: bundle } as AppendixOutput);

describe("outputHtml", () => {
  it.each([
    ["HTML before text", { "text/html": "<b>a</b>", "text/plain": "a" }, "<b>a</b>"],
    ["markdown before text", { "text/markdown": "*a*", "text/plain": "a" }, "<em>a</em>"],
    ["text", { "text/plain": "1 < 2" }, "1 &lt; 2"],
    ["JSON of what it does not know", { "application/json": { a: 1 } }, "{\n  &quot;a&quot;: 1\n}"],
    ["that there is nothing", {}, "(empty output)"],
  ])("shows %s", (_, bundle, html) => {
    expect(data(bundle)).toMatchObject({ figure: null });
    expect(data(bundle).html).toContain(html);
  });

  it("cleans HTML", () => {
    expect(data({ "text/html": "<b onclick=x()>a</b><script>x</script>" }).html).toBe(
      '<div class="output"><b>a</b></div>',
    );
  });

  it("numbers a figure", () => {
    const { html, figure } = data({ "image/svg+xml": "<svg></svg>", "text/plain": "Bank" });
    expect(figure?.title).toBe("Bank");
    expect(html).toContain('<figure id="figure-7">');
    expect(html).toContain('<svg role="img" aria-label="Bank"></svg>');
  });

  it("says what was written to standard error, and takes terminal colours off", () => {
    const stream = (name: "stdout" | "stderr") =>
      shown({ output_type: "stream", name, text: ["\u001b[31mred\u001b[0m ", "<b>"] }).html;
    expect(stream("stdout")).toBe('<pre class="output stream">red &lt;b&gt;</pre>');
    expect(stream("stderr")).toContain("Written to standard error</p><pre>red &lt;b&gt;</pre>");
  });

  it("shows the trace of an error, or its message where there is none", () => {
    const error = (traceback: readonly string[]) =>
      shown({ output_type: "error", ename: "TypeError", evalue: "no", traceback }).html;
    expect(error(["line 1", "line 2"])).toContain("<pre>line 1\nline 2</pre>");
    expect(error([])).toContain("<pre>TypeError: no</pre>");
  });
});
