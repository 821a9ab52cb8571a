import type { Block, FigureBlock, Group, Paragraph } from "./block.js";
import { plainText } from "./inline.js";
import { inlinesOf } from "./inlines-of.js";
import {
  childrenOf,
  type Element,
  hasClass,
  isElement,
  type Node,
  parsedHtml,
  textWithin,
  written,
} from "./parse-html.js";
import { tableOf } from "./table-of.js";

/** HTML that was made fit to stand in the page, as blocks; ids and numbers come later. */
export function blocksOf(html: string): readonly Block[] {
  return blocksWithin(parsedHtml(html));
}

/** Elements that stand for themselves; all others are runs of a paragraph. */
const blockNames = new Set(
  "p div section article h1 h2 h3 h4 h5 h6 ul ol dl table figure details pre blockquote hr svg".split(
    " ",
  ),
);

const isBlock = (node: Node): node is Element => isElement(node) && blockNames.has(node.name);

/** Runs of text between blocks become paragraphs of their own. */
function blocksWithin(nodes: readonly Node[]): readonly Block[] {
  const blocks: Block[] = [];
  let runs: Node[] = [];
  const close = () => {
    const content = inlinesOf(runs);
    if (plainText(content).trim() !== "" || content.some((one) => typeof one !== "string")) {
      blocks.push(paragraph(content));
    }
    runs = [];
  };
  for (const node of nodes) {
    if (!isBlock(node)) runs.push(node);
    else {
      close();
      blocks.push(...blockOf(node));
    }
  }
  close();
  return blocks;
}

function paragraph(content: Paragraph["content"], role: Paragraph["role"] = "plain"): Paragraph {
  return { kind: "paragraph", role, content };
}

function blockOf(element: Element): readonly Block[] {
  const { name, children } = element;
  if (name === "p") return [paragraph(inlinesOf(children), paragraphRole(element))];
  if (/^h[1-6]$/.test(name)) return [headingOf(element)];
  if (name === "ul" || name === "ol") return [listOf(element)];
  if (name === "table") return [tableOf(element)];
  if (name === "pre") return [{ kind: "preformatted", role: "plain", text: textWithin(element) }];
  if (name === "hr") return [{ kind: "rule" }];
  if (name === "figure" || name === "svg") return [figureOf(element)];
  if (name === "details") return [foldedOf(element)];
  return divisionOf(element);
}

function paragraphRole(element: Element): Paragraph["role"] {
  if (hasClass(element, "bq-summary")) return "summary";
  return hasClass(element, "bq-counts") ? "counts" : "plain";
}

function headingOf({ name, attribs, children }: Element): Block {
  const content = inlinesOf(children);
  return { kind: "heading", depth: Number(name[1]), id: attribs.id ?? "", number: "", content };
}

function listOf(element: Element): Block {
  const items = childrenOf(element, "li").map((item) => blocksWithin(item.children));
  return { kind: "list", ordered: element.name === "ol", items };
}

function figureOf(element: Element): FigureBlock {
  const svg = element.name === "svg" ? element : childrenOf(element, "svg")[0];
  const caption = childrenOf(element, "figcaption")[0];
  const words = caption === undefined ? "" : plainText(inlinesOf(caption.children));
  return {
    kind: "figure",
    id: "",
    number: 0,
    title: words || "Figure",
    caption: words,
    drawing: svg === undefined ? null : { kind: "svg", svg: written(svg) },
    spec: null,
  };
}

/** A table that is folded under its own caption is one table. */
function foldedOf(element: Element): Block {
  const [head, ...others] = childrenOf(element);
  const summary = head?.name === "summary" ? inlinesOf(head.children) : [];
  const rest = element.children.filter((node) => node !== head || head.name !== "summary");
  const [only] = others;
  if (others.length === 1 && only !== undefined && only.name === "table") {
    const table = tableOf(only);
    if (table.caption.length === 0) return { ...table, caption: summary, folded: true };
  }
  const blocks = blocksWithin(rest);
  if (!hasClass(element, "bq-how")) return { kind: "folded", role: "plain", summary, blocks };
  return { kind: "folded", role: "how", summary, blocks: blocks.map(asLabel) };
}

/** What heads a part of an account is no section of the document. */
function asLabel(block: Block): Block {
  return block.kind === "heading" ? paragraph(block.content, "label") : block;
}

function divisionOf(element: Element): readonly Block[] {
  const blocks = blocksWithin(element.children);
  if (hasClass(element, "bq-caution")) return [cautionOf(blocks)];
  if (hasClass(element, "bq-decision")) return [decisionOf(blocks)];
  const role: Group["role"] | null = hasClass(element, "bq")
    ? "account"
    : element.name === "blockquote"
      ? "quote"
      : null;
  return role === null ? blocks : [{ kind: "group", role, blocks }];
}

function cautionOf(blocks: readonly Block[]): Block {
  const sentences = paragraphsIn(blocks).map(({ content }) => withoutOpening(content));
  return { kind: "caution", id: "", sentences };
}

/** The word "Caution." in front is the look of the box and no part of what it says. */
function withoutOpening(content: Paragraph["content"]): Paragraph["content"] {
  const [first, second, ...rest] = content;
  const isOpening =
    typeof first === "object" && first.kind === "marked" && plainText([first]) === "Caution.";
  if (!isOpening) return content;
  return typeof second === "string" ? [second.trimStart(), ...rest] : content.slice(1);
}

function decisionOf(blocks: readonly Block[]): Block {
  return { kind: "decision", content: paragraphsIn(blocks).flatMap(({ content }) => content) };
}

const paragraphsIn = (blocks: readonly Block[]) =>
  blocks.filter((block): block is Paragraph => block.kind === "paragraph");
