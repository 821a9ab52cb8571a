import { Marked, type Tokens } from "marked";
import { escapeHtml } from "../step/show/html.js";
import { isInlinePicture, isPlainLink } from "./links.js";
import { type MimeBundle, wholeText } from "./notebook.js";

export interface Heading {
  readonly id: string;
  readonly depth: number;
  readonly text: string;
}

export interface RenderedMarkdown {
  readonly html: string;
  readonly headings: readonly Heading[];
}

export interface MarkdownOptions {
  readonly attachments: Readonly<Record<string, MimeBundle>>;
  /** Gives each heading an id that no other heading of the page has. */
  readonly newId: (text: string) => string;
}

/** Markdown as HTML. Raw HTML in it is shown as text; pictures must be in the notebook itself. */
export function renderMarkdown(source: string, options: MarkdownOptions): RenderedMarkdown {
  const headings: Heading[] = [];
  const marked = new Marked({ gfm: true, async: false });
  marked.use({
    renderer: {
      html: ({ text }) => escapeHtml(text),
      heading({ tokens, depth }) {
        const text = plain(tokens);
        const id = options.newId(text);
        headings.push({ id, depth, text });
        return `<h${depth} id="${escapeHtml(id)}">${this.parser.parseInline(tokens)}</h${depth}>\n`;
      },
      link({ href, tokens }) {
        const inner = this.parser.parseInline(tokens);
        return isPlainLink(href) ? `<a href="${escapeHtml(href)}">${inner}</a>` : inner;
      },
      image: ({ href, text }) => picture(href, text, options.attachments),
      code: ({ text }) => `<pre><code>${escapeHtml(text)}</code></pre>\n`,
    },
  });
  return { html: marked.parse(source) as string, headings };
}

function plain(tokens: readonly unknown[]): string {
  return (tokens as readonly Tokens.Generic[])
    .map((token) => (token.tokens ? plain(token.tokens) : (token.text ?? token.raw)))
    .join("")
    .replace(/&(amp|lt|gt|quot|#39);/g, (_, name: string) => entity[name] ?? "");
}

const entity: Readonly<Record<string, string>> = {
  amp: "&",
  lt: "<",
  gt: ">",
  quot: '"',
  "#39": "'",
};

function picture(href: string, text: string, attachments: MarkdownOptions["attachments"]): string {
  const source = href.startsWith("attachment:") ? attached(attachments[href.slice(11)]) : href;
  if (!isInlinePicture(source))
    return `<em>[picture not included: ${escapeHtml(text || href)}]</em>`;
  return `<img src="${escapeHtml(source)}" alt="${escapeHtml(text)}">`;
}

function attached(bundle: MimeBundle | undefined): string {
  const found = Object.entries(bundle ?? {}).find(([mime]) => mime.startsWith("image/"));
  if (found === undefined) return "";
  const [type, picture] = found;
  return `data:${type};base64,${wholeText(picture).replace(/\s/g, "")}`;
}
