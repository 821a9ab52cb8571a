import { Marked } from "marked";
import { escapeHtml } from "../../step/show/html.js";
import { isInlinePicture, isPlainLink } from "./links.js";
import { type MimeBundle, wholeText } from "./notebook.js";

export interface MarkdownOptions {
  /** Pictures that travel with the cell, by name. */
  readonly attachments?: Readonly<Record<string, MimeBundle>>;
}

/** Markdown as HTML. Raw HTML in it is shown as text; pictures must be in the notebook itself. */
export function renderMarkdown(source: string, { attachments = {} }: MarkdownOptions): string {
  const marked = new Marked({ gfm: true, async: false });
  marked.use({
    renderer: {
      html: ({ text }) => escapeHtml(text),
      link({ href, tokens }) {
        const inner = this.parser.parseInline(tokens);
        return isPlainLink(href) ? `<a href="${escapeHtml(href)}">${inner}</a>` : inner;
      },
      image: ({ href, text }) => picture(href, text, attachments),
      code: ({ text }) => `<pre><code>${escapeHtml(text)}</code></pre>\n`,
    },
  });
  return marked.parse(source) as string;
}

function picture(
  href: string,
  text: string,
  attachments: Readonly<Record<string, MimeBundle>>,
): string {
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
