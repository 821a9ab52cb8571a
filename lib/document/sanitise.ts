import { escapeHtml } from "../step/show/html.js";
import { isInlinePicture, isPlainLink } from "./links.js";

const words = (text: string) => new Set(text.split(" "));

const htmlTags = words(
  "div span p br hr h1 h2 h3 h4 h5 h6 ul ol li dl dt dd table caption colgroup col thead tbody tfoot " +
    "tr th td strong b em i u s sub sup code pre kbd samp var blockquote figure figcaption details " +
    "summary a img small mark time abbr",
);
const svgTags = words(
  "svg g path rect circle ellipse line polyline polygon text tspan defs linearGradient " +
    "radialGradient stop clipPath mask pattern desc marker",
);
const emptyTags = words("br hr img col");
/** Left out with all they hold. */
const droppedWhole = words("script style iframe object embed template noscript title textarea");
const htmlAttributes = words(
  "class id title colspan rowspan scope role lang dir align width height href src alt open start datetime",
);

/**
 * HTML or SVG made fit to stand in the page: only known tags and attributes, no scripts, no styles
 * of its own sheet, no links that run or load something, every tag closed.
 */
export function sanitised(markup: string): string {
  const out: string[] = [];
  const open: string[] = [];
  let at = 0;
  for (const tag of tagsOf(markup)) {
    if (tag.from < at) continue;
    out.push(textOnly(markup.slice(at, tag.from)));
    at = tag.to;
    if (droppedWhole.has(tag.name.toLowerCase())) {
      if (!tag.closing && !tag.selfClosing) at = endOf(markup, tag.name, tag.to);
    } else if (isKnown(tag.name)) {
      out.push(tag.closing ? closed(tag.name, open) : opened(tag, open));
    }
  }
  out.push(textOnly(markup.slice(at)));
  return out.join("") + open.reverse().map(closingTag).join("");
}

interface Tag {
  readonly name: string;
  readonly closing: boolean;
  readonly selfClosing: boolean;
  readonly attributes: string;
  readonly from: number;
  readonly to: number;
}

function* tagsOf(markup: string): Generator<Tag> {
  const pattern =
    /<!--[\s\S]*?(?:-->|$)|<!\[CDATA\[[\s\S]*?(?:\]\]>|$)|<[!?][^>]*>|<(\/?)([A-Za-z][\w:-]*)((?:"[^"]*"|'[^']*'|[^'">])*)>/g;
  for (const match of markup.matchAll(pattern)) {
    const attributes = match[3] ?? "";
    yield {
      name: match[2] ?? "",
      closing: match[1] === "/",
      selfClosing: /\/\s*$/.test(attributes),
      attributes: attributes.replace(/\/\s*$/, ""),
      from: match.index ?? 0,
      to: (match.index ?? 0) + match[0].length,
    };
  }
}

function isKnown(name: string): boolean {
  return htmlTags.has(name.toLowerCase()) || svgTags.has(name);
}

/** What stands between tags; an angle bracket there is only a sign. */
function textOnly(text: string): string {
  return text.replaceAll("<", "&lt;").replaceAll(">", "&gt;");
}

function endOf(markup: string, name: string, from: number): number {
  const end = new RegExp(`</${name}\\s*>`, "gi");
  end.lastIndex = from;
  return end.exec(markup) === null ? markup.length : end.lastIndex;
}

function opened(tag: Tag, open: string[]): string {
  const attributes = attributesOf(tag);
  if (emptyTags.has(tag.name.toLowerCase())) return `<${tag.name}${attributes}>`;
  if (tag.selfClosing && svgTags.has(tag.name)) return `<${tag.name}${attributes}/>`;
  open.push(tag.name);
  return `<${tag.name}${attributes}>`;
}

function closed(name: string, open: string[]): string {
  const at = open.lastIndexOf(name);
  if (at < 0) return "";
  return open.splice(at).reverse().map(closingTag).join("");
}

function closingTag(name: string): string {
  return `</${name}>`;
}

function attributesOf(tag: Tag): string {
  const svg = svgTags.has(tag.name);
  const pattern = /([A-Za-z_][\w:.-]*)(?:\s*=\s*(?:"([^"]*)"|'([^']*)'|([^\s"'>]+)))?/g;
  const kept: string[] = [];
  for (const [, name, double, single, bare] of tag.attributes.matchAll(pattern)) {
    const value = unescaped(double ?? single ?? bare ?? "");
    if (allowed(name!, value, svg)) kept.push(` ${name}="${escapeHtml(value)}"`);
  }
  return kept.join("");
}

function allowed(name: string, value: string, svg: boolean): boolean {
  const lower = name.toLowerCase();
  if (lower.startsWith("on")) return false;
  if (/url\((?!["']?#)|expression\(|@import|javascript:/i.test(value)) return false;
  if (lower === "src") return isInlinePicture(value);
  if (lower === "href" || lower === "xlink:href") {
    return svg ? value.startsWith("#") : lower === "href" && isPlainLink(value);
  }
  if (lower === "style") return !/[\\<]|position/i.test(value);
  return svg || htmlAttributes.has(lower) || /^(aria|data)-[\w-]+$/.test(lower);
}

const named: Readonly<Record<string, string>> = {
  amp: "&",
  lt: "<",
  gt: ">",
  quot: '"',
  apos: "'",
};

/**
 * Character references resolved, so that a rule cannot be passed by spelling letters as numbers.
 */
function unescaped(value: string): string {
  return value.replace(/&(?:#x([0-9a-f]+)|#(\d+)|(\w+));?/gi, (whole, hex, decimal, name) => {
    if (hex !== undefined) return letter(Number.parseInt(hex, 16));
    if (decimal !== undefined) return letter(Number(decimal));
    return named[String(name).toLowerCase()] ?? whole;
  });
}

function letter(code: number): string {
  return code > 0 && code <= 0x10ffff ? String.fromCodePoint(code) : "";
}
