import { escapeHtml } from "../step/show/html.js";
import { figureHtml, isFigure, type NumberedFigure } from "./figure-html.js";
import { renderMarkdown } from "./markdown.js";
import { type AppendixOutput, type MimeBundle, wholeText } from "./notebook.js";
import { sanitised } from "./sanitise.js";

/** Numbers that run through the whole page. */
export interface OutputNumbers {
  readonly nextFigure: () => number;
  readonly newId: (text: string) => string;
}

export interface RenderedOutput {
  readonly html: string;
  readonly figure: NumberedFigure | null;
}

/** One output in its richest form. */
export function outputHtml(output: AppendixOutput, numbers: OutputNumbers): RenderedOutput {
  switch (output.output_type) {
    case "stream":
      return words(streamHtml(output.name, wholeText(output.text)));
    case "error":
      return words(errorHtml(output));
    default:
      return bundleHtml(output.data, numbers);
  }
}

function words(html: string): RenderedOutput {
  return { html, figure: null };
}

function bundleHtml(data: MimeBundle, numbers: OutputNumbers): RenderedOutput {
  if (isFigure(data)) {
    const figure = figureHtml(data, numbers.nextFigure());
    return { html: figure.html, figure };
  }
  const html = wholeText(data["text/html"]);
  if (html !== "") return words(`<div class="output">${sanitised(html)}</div>`);
  const markdown = wholeText(data["text/markdown"]);
  if (markdown !== "") {
    const { newId } = numbers;
    const rendered = renderMarkdown(markdown, { attachments: {}, newId });
    return words(`<div class="output">${rendered.html}</div>`);
  }
  return words(pre("output", otherText(data)));
}

function otherText(data: MimeBundle): string {
  const plain = wholeText(data["text/plain"]);
  if (plain !== "") return plain;
  const [mime, value] = Object.entries(data)[0] ?? ["", ""];
  if (mime === "") return "(empty output)";
  return typeof value === "string" ? value : JSON.stringify(value, null, 2);
}

function streamHtml(name: string, text: string): string {
  if (name !== "stderr") return pre("output stream", text);
  return marked('<div class="output stream">', "Written to standard error", text);
}

function errorHtml(output: Extract<AppendixOutput, { output_type: "error" }>): string {
  const head = `${output.ename}: ${output.evalue}`;
  const trace = output.traceback.join("\n");
  const body = trace.trim() === "" ? head : trace;
  return marked('<div class="output error" role="alert">', "This cell failed", body);
}

function marked(opening: string, kind: string, text: string): string {
  return `${opening}<p class="kind">${kind}</p>${pre("", text)}</div>`;
}

function pre(classes: string, text: string): string {
  const attribute = classes === "" ? "" : ` class="${classes}"`;
  return `<pre${attribute}>${escapeHtml(withoutColours(text))}</pre>`;
}

/** Terminal colour codes left out. */
function withoutColours(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: the escape character opens such a code
  return text.replace(/\u001b\[[0-9;]*[A-Za-z]/g, "");
}
