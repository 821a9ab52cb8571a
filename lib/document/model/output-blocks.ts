import type { Block, Group, Preformatted } from "./block.js";
import { blocksOf } from "./blocks-of.js";
import { figureOf, isFigure } from "./figure-of.js";
import { renderMarkdown } from "./markdown.js";
import { type AppendixOutput, type MimeBundle, wholeText } from "./notebook.js";
import { sanitised } from "./sanitise.js";

/** One output in its richest form; ids and numbers come later. */
export function outputBlocks(output: AppendixOutput): readonly Block[] {
  switch (output.output_type) {
    case "stream":
      return streamBlocks(output.name, wholeText(output.text));
    case "error":
      return [errorBlock(output)];
    default:
      return bundleBlocks(output.data);
  }
}

/** A text that a cell gives, of some words on one line, is a sentence of the document. */
function bundleBlocks(data: MimeBundle): readonly Block[] {
  if (isFigure(data)) return [figureOf(data)];
  const html = wholeText(data["text/html"]);
  if (html !== "") return [htmlBlock(sanitised(html))];
  const markdown = wholeText(data["text/markdown"]);
  if (markdown !== "") return [group("output", blocksOf(renderMarkdown(markdown, {})))];
  const text = otherText(data);
  const [, , sentence] = /^(['"`])([^\n]* [^\n]*)\1$/.exec(text) ?? [];
  if (sentence === undefined) return [preformatted("output", text)];
  return [group("output", [{ kind: "paragraph", role: "plain", content: [sentence] }])];
}

/** What the library and the kernel show is known by its classes; all other HTML is an author's own. */
function htmlBlock(html: string): Block {
  const isOwn = /<(?:div|table)\b[^>]*\bclass="(?:bq\b|title-block\b)/.test(html);
  const blocks = blocksOf(html);
  return isOwn ? group("output", blocks) : { kind: "foreign", html, blocks };
}

function otherText(data: MimeBundle): string {
  const plain = wholeText(data["text/plain"]);
  if (plain !== "") return plain;
  const [mime, value] = Object.entries(data)[0] ?? ["", ""];
  if (mime === "") return "(empty output)";
  return typeof value === "string" ? value : JSON.stringify(value, null, 2);
}

function streamBlocks(name: string, text: string): readonly Block[] {
  if (name !== "stderr") return [preformatted("stream", text)];
  return [labelled("stream", "Written to standard error", text)];
}

function errorBlock(output: Extract<AppendixOutput, { output_type: "error" }>): Block {
  const head = `${output.ename}: ${output.evalue}`;
  const trace = output.traceback.join("\n");
  return labelled("error", "This cell failed", trace.trim() === "" ? head : trace);
}

function labelled(role: Group["role"], label: string, text: string): Block {
  return group(role, [
    { kind: "paragraph", role: "label", content: [label] },
    preformatted("plain", text),
  ]);
}

function group(role: Group["role"], blocks: readonly Block[]): Block {
  return { kind: "group", role, blocks };
}

function preformatted(role: Preformatted["role"], text: string): Block {
  return { kind: "preformatted", role, text: withoutColours(text) };
}

/** Terminal colour codes left out. */
function withoutColours(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: the escape character opens such a code
  return text.replace(/\u001b\[[0-9;]*[A-Za-z]/g, "");
}
