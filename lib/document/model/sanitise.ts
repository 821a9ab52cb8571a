import { createRequire } from "node:module";
import type sanitizeHtml from "sanitize-html";
import { isInlinePicture, isPlainLink } from "./links.js";

// Loaded where a page is made: notebooks load the whole library.
const requireHere = createRequire(import.meta.url);
const sanitizer = () => requireHere("sanitize-html") as typeof sanitizeHtml;

const words = (text: string) => text.split(" ");

const htmlTags = words(
  "div span p br hr h1 h2 h3 h4 h5 h6 ul ol li dl dt dd table caption colgroup col thead tbody " +
    "tfoot tr th td strong b em i u s sub sup code pre kbd samp var blockquote figure figcaption " +
    "details summary a img small mark time abbr",
);
const svgTags = words(
  "svg g path rect circle ellipse line polyline polygon text tspan defs linearGradient " +
    "radialGradient stop clipPath mask pattern desc marker",
);
const htmlAttributes = words(
  "class id title style colspan rowspan scope role lang dir align width height href src alt open " +
    "start datetime aria-* data-*",
);
const svgAttributes = words(
  "class id style role aria-* version xmlns xmlns:xlink xml:space viewBox preserveAspectRatio " +
    "width height x y x1 y1 x2 y2 dx dy cx cy r rx ry fx fy d points transform rotate fill " +
    "fill-* stroke stroke-* opacity color display visibility overflow " +
    "font-* text-* letter-spacing dominant-baseline alignment-baseline baseline-shift " +
    "pointer-events offset stop-* gradientUnits gradientTransform spreadMethod pattern* clip* " +
    "mask* marker* refX refY orient href xlink:href",
);

/**
 * HTML or SVG made fit to stand in the page: only known tags and attributes, no scripts, no style
 * sheets, no links that run or load something, every tag closed.
 */
export function sanitised(markup: string): string {
  return sanitizer()(markup, {
    allowedTags: [...htmlTags, ...svgTags],
    allowedAttributes: {
      ...Object.fromEntries(htmlTags.map((tag) => [tag, htmlAttributes])),
      ...Object.fromEntries(svgTags.map((tag) => [tag, svgAttributes])),
    },
    // Left out with all they hold.
    nonTextTags: words("script style iframe object embed template noscript title textarea option"),
    transformTags: { "*": cleaned },
    selfClosing: words("br hr img path rect circle ellipse line polyline polygon stop"),
    // Links are looked at here; styles need no parser, as those that reach out are dropped whole.
    allowedSchemesAppliedToAttributes: [],
    parseStyleAttributes: false,
    // Drawings have tags and attributes with capitals.
    parser: { lowerCaseTags: false, lowerCaseAttributeNames: false },
  });
}

/**
 * A tag without attributes that reach out of the page; HTML in small letters, which it may lack.
 */
function cleaned(name: string, attributes: sanitizeHtml.Attributes): sanitizeHtml.Tag {
  const drawing = svgTags.includes(name);
  const given = Object.entries(attributes).map(
    ([key, value]) => [drawing ? key : key.toLowerCase(), value] as const,
  );
  const attribs = Object.fromEntries(given.filter(([key, value]) => isSafe(key, value, drawing)));
  return { tagName: drawing ? name : name.toLowerCase(), attribs };
}

function isSafe(name: string, value: string, drawing: boolean): boolean {
  if (/url\((?!["']?#)|expression\(|@import|javascript:/i.test(value)) return false;
  if (name === "src") return isInlinePicture(value);
  if (name.endsWith("href")) return drawing ? value.startsWith("#") : isPlainLink(value);
  return name !== "style" || !/[\\<]|position/i.test(value);
}
