import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";

/** A fenced block of code: what stands after the fence, such as "ts figures=1", and its lines. */
export interface CodeBlock {
  readonly kind: "code";
  readonly language: string;
  /** `name=value` words and bare words after the language. */
  readonly words: ReadonlyMap<string, string>;
  readonly source: string;
}

export interface TextBlock {
  readonly kind: "text";
  readonly text: string;
}

/** A page of the documentation as it is written. */
export interface Page {
  /** Path below the folder of pages, such as "steps/02-drift.md". */
  readonly path: string;
  readonly blocks: readonly (CodeBlock | TextBlock)[];
}

const fenced = /^```(\w+)([^\n]*)\n([\s\S]*?)\n```$/gm;

/** Cuts a page at its fenced blocks. */
export function parsePage(path: string, text: string): Page {
  const blocks: (CodeBlock | TextBlock)[] = [];
  let end = 0;
  for (const match of text.matchAll(fenced)) {
    const [whole, language = "", info = "", source = ""] = match;
    blocks.push({ kind: "text", text: text.slice(end, match.index) });
    blocks.push({ kind: "code", language, words: wordsOf(info), source });
    end = match.index + whole.length;
  }
  blocks.push({ kind: "text", text: text.slice(end) });
  return { path, blocks };
}

function wordsOf(info: string): ReadonlyMap<string, string> {
  const words = info.split(/\s+/).filter((word) => word !== "");
  return new Map(
    words.map((word) => {
      const [name = "", value = ""] = word.split("=");
      return [name, value];
    }),
  );
}

/** The pages of a folder and the folders in it, in the order of their names. */
export async function readPages(folder: string): Promise<readonly Page[]> {
  const names = (await readdir(folder, { recursive: true })).filter((name) => name.endsWith(".md"));
  return Promise.all(
    names.sort().map(async (name) => {
      return parsePage(name.replaceAll("\\", "/"), await readFile(join(folder, name), "utf8"));
    }),
  );
}

/** A page under another name for what is shown below a block. */
export interface Shown {
  readonly page: Page;
  readonly block: CodeBlock;
}

/** The blocks of a language, page by page. */
export function blocksOf(pages: readonly Page[], language: string): readonly Shown[] {
  return pages.flatMap((page) =>
    page.blocks.flatMap((block) =>
      block.kind === "code" && block.language === language ? [{ page, block }] : [],
    ),
  );
}
