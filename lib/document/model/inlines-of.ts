import type { Inline, Mark } from "./inline.js";
import { type Element, hasClass, isElement, type Node, textOf } from "./parse-html.js";

const marks: Readonly<Record<string, Mark>> = {
  strong: "strong",
  b: "strong",
  em: "emphasis",
  i: "emphasis",
  code: "code",
  kbd: "code",
  samp: "code",
  var: "emphasis",
  small: "small",
  sub: "sub",
  sup: "sup",
};

/** Parsed HTML as runs of text, white space as a browser shows it. */
export function inlinesOf(nodes: readonly Node[]): readonly Inline[] {
  return trimmed(nodes.flatMap(runsOf));
}

function runsOf(node: Node): readonly Inline[] {
  const text = textOf(node);
  if (text !== null) return text === "" ? [] : [text.replace(/[ \t\r\n]+/g, " ")];
  if (!isElement(node)) return [];
  const content = node.children.flatMap(runsOf);
  const mark = markOf(node);
  if (mark !== null) return [{ kind: "marked", mark, content }];
  const { href, src, alt = "" } = node.attribs;
  if (node.name === "a" && href !== undefined) return [{ kind: "link", to: href, content }];
  if (node.name === "img" && src !== undefined) return [{ kind: "picture", source: src, alt }];
  if (node.name === "br") return [{ kind: "break" }];
  return content;
}

function markOf(element: Element): Mark | null {
  if (hasClass(element, "bq-source")) return "source";
  if (hasClass(element, "missing")) return "missing";
  return marks[element.name] ?? null;
}

/** Without white space at either end. */
function trimmed(content: readonly Inline[]): readonly Inline[] {
  const last = content.length - 1;
  return content
    .map((inline, i) => {
      if (typeof inline !== "string") return inline;
      const start = i === 0 ? inline.trimStart() : inline;
      return i === last ? start.trimEnd() : start;
    })
    .filter((inline) => inline !== "");
}
