import { createRequire } from "node:module";
import type * as HtmlParser from "htmlparser2";

// Loaded where a page is made: notebooks load the whole library.
const requireHere = createRequire(import.meta.url);
const parser = () => requireHere("htmlparser2") as typeof HtmlParser;

/** A node of parsed HTML. */
export type Node = ReturnType<typeof HtmlParser.parseDocument>["children"][number];

/** An element of parsed HTML. */
export type Element = Extract<Node, { readonly attribs: object }>;

/** HTML that was made fit to stand in the page, as a tree; names of drawings keep their capitals. */
export function parsedHtml(html: string): readonly Node[] {
  const options = { lowerCaseTags: false, lowerCaseAttributeNames: false };
  return parser().parseDocument(html, { ...options, recognizeSelfClosing: true }).children;
}

export const isElement = (node: Node): node is Element => parser().DomUtils.isTag(node);

/** The text of a node that is one; null of any other. */
export const textOf = (node: Node): string | null =>
  parser().DomUtils.isText(node) ? node.data : null;

/** All text within. */
export const textWithin = (node: Node): string => parser().DomUtils.textContent(node);

/** The element as it was written. */
export const written = (element: Element): string => parser().DomUtils.getOuterHTML(element);

/** Whether the element carries the class. */
export function hasClass({ attribs }: Element, name: string): boolean {
  return (attribs.class ?? "").split(/\s+/).includes(name);
}

/** The elements of some names right below one. */
export function childrenOf(element: Element, ...names: readonly string[]): readonly Element[] {
  const found: readonly Element[] = element.children.filter(isElement);
  return names.length === 0 ? found : found.filter(({ name }) => names.includes(name));
}
