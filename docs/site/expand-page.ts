import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { parseNotebook } from "../../kernels/notebook/read-notebook.js";
import type { CellOutput } from "../../kernels/session/show/outputs.js";
import { stepOptions } from "../../lib/index.js";
import { type Pictures, pictureOf } from "./figures.js";
import type { CodeBlock, Page } from "./page.js";
import { repository } from "./repository.js";

/** What the blocks of all pages gave, and where pictures go. */
export interface Ran {
  readonly outputs: ReadonlyMap<CodeBlock, readonly CellOutput[]>;
  readonly told: ReadonlyMap<CodeBlock, string>;
  readonly pictures: Pictures;
  /** The folder in which the commands ran. */
  readonly folder: string;
}

/** The page as Markdown, with what its blocks gave, its options, pictures and included files. */
export async function expandPage(page: Page, ran: Ran): Promise<string> {
  const parts: string[] = [];
  for (const block of page.blocks) {
    if (block.kind === "text") parts.push(await withDirectives(block.text, page, ran));
    else
      parts.push(`\`\`\`${block.language}\n${block.source}\n\`\`\``, await given(block, page, ran));
  }
  return parts.filter((part) => part !== "").join("\n\n");
}

async function given(block: CodeBlock, page: Page, ran: Ran): Promise<string> {
  const told = ran.told.get(block);
  if (told !== undefined) return block.words.has("quiet") ? "" : textBlock(told, block);
  const outputs = ran.outputs.get(block) ?? [];
  const figures = outputs.flatMap((output) => pictureOf(output) ?? []);
  const shown: string[] = [];
  for (const figure of figures.slice(0, Number(block.words.get("figures") ?? 1))) {
    shown.push(await ran.pictures.put(figure, page.path));
  }
  const texts = outputs.flatMap(plainText);
  return [...(texts.length > 0 ? [textBlock(texts.join("\n"), block)] : []), ...shown].join("\n\n");
}

/** Lines shown of what a block wrote, unless it says `lines=`. */
const shownLines = 24;

function textBlock(text: string, block: CodeBlock): string {
  const lines = text.trimEnd().split("\n");
  const most = Number(block.words.get("lines") ?? shownLines);
  const more = lines.length - most;
  const shown = more > 0 ? [...lines.slice(0, most), `… ${more} more lines`] : lines;
  return text.trim() === "" ? "" : `\`\`\`text\n${shown.join("\n")}\n\`\`\``;
}

// An account and a figure have pages of their own; what is left is a plain value.
function plainText(output: CellOutput): readonly string[] {
  if (output.output_type === "stream") return [output.text];
  if (output.output_type === "error") return [];
  const { "text/html": html, "image/svg+xml": svg, "text/plain": plain } = output.data;
  return html === undefined && svg === undefined ? [String(plain)] : [];
}

const directive = /^\{\{(\w+) ([^}]+)\}\}$/gm;

async function withDirectives(text: string, page: Page, ran: Ran): Promise<string> {
  const parts: string[] = [];
  let end = 0;
  for (const match of text.matchAll(directive)) {
    const [whole, name = "", value = ""] = match;
    parts.push(text.slice(end, match.index), await directed(name, value, { page, ran }));
    end = match.index + whole.length;
  }
  return [...parts, text.slice(end)].join("").trim();
}

async function directed(
  name: string,
  value: string,
  { page, ran }: { readonly page: Page; readonly ran: Ran },
): Promise<string> {
  if (name === "options") return optionsHtml(value);
  if (name === "include") return included(value);
  if (name === "picture") return appendixPicture(value, { page, ran });
  throw new Error(`${page.path}: {{${name} …}} must be options, include or picture`);
}

const display = Symbol.for("Jupyter.display");

interface Displayed {
  readonly [display]: () => Readonly<Record<string, unknown>>;
}

function optionsHtml(step: string): string {
  const options = stepOptions(step);
  if (options === null) throw new Error(`no step is named ${step}`);
  const { [display]: show } = options as unknown as Displayed;
  const html = String(show.call(options)["text/html"]);
  const table = /<table[\s\S]*<\/table>/.exec(html)?.[0];
  if (table === undefined) return "It has no options.";
  return table.replace(/\n\s*/g, "");
}

/** A Markdown file of the repository, its headings one level down and its own title left out. */
async function included(file: string): Promise<string> {
  const text = await readFile(join(repository, file), "utf8");
  return text.replace(/^# .*\n/, "").trim();
}

/** "FOLDER/appendix.ipynb cell-id": the first figure that the cell shows in an appendix. */
async function appendixPicture(
  value: string,
  { page, ran }: { readonly page: Page; readonly ran: Ran },
): Promise<string> {
  const [file = "", id = ""] = value.trim().split(/\s+/);
  const path = join(ran.folder, file);
  const { cells } = parseNotebook(await readFile(path, "utf8"), file);
  const cell = cells.find((one) => one.id === id);
  const pictures =
    cell?.cell_type === "code" ? cell.outputs.flatMap((one) => pictureOf(one) ?? []) : [];
  const [first] = pictures;
  if (first !== undefined) return ran.pictures.put(first, page.path);
  const ids = cells.flatMap((one) =>
    one.cell_type === "code" && one.outputs.some((output) => pictureOf(output)) ? [one.id] : [],
  );
  throw new Error(`${page.path}: no figure of "${id}" in ${file}; there is of ${ids.join(", ")}`);
}
