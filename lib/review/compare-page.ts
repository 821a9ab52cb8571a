import { inflateSync } from "node:zlib";
import { textDifference } from "./compare-texts.js";
import { figureDifference } from "./figure-difference.js";
import type { FigureDifference, FileDifference } from "./review.js";

const specification =
  /<script type="application\/octet-stream" id="(figure-\d+)-data">(.*?)<\/script>/gs;

/** What the appendix was made from is compared by its own file. */
const provenance = /<section class="words annex"><h2 id="provenance">.*?<\/section>/s;

/** The page against the one that the notebook gives: figures by their data, all else as text. */
export function comparePage(
  [was, is]: readonly [stored: string, again: string],
  { tolerance, file }: { readonly tolerance: number; readonly file: string },
): { readonly figures: readonly FigureDifference[]; readonly files: readonly FileDifference[] } {
  if (was === is) return { figures: [], files: [] };
  const [specs, others] = [specsOf(was), specsOf(is)];
  const found = [...specs].flatMap(([id, spec]) => {
    const other = others.get(id);
    if (other === undefined || other === spec) return [];
    const figure = figureDifference([parsed(spec), parsed(other)], { tolerance, file });
    return figure === null ? [] : [{ id, figure }];
  });
  const drawn = found.map(({ id }) => id);
  const words = textDifference(restOf(was, drawn), restOf(is, drawn), tolerance);
  return {
    figures: found.map(({ figure }) => figure),
    files: words === null ? [] : [{ name: file, what: "text of the page", ...words }],
  };
}

/** The packed specifications by their figure. */
function specsOf(page: string): ReadonlyMap<string, string> {
  return new Map([...page.matchAll(specification)].map(([, id = "", data = ""]) => [id, data]));
}

function parsed(data: string): unknown {
  try {
    return JSON.parse(inflateSync(Buffer.from(data, "base64")).toString("utf8"));
  } catch {
    return data;
  }
}

/** The page without specifications, and without the drawings of figures whose data differ. */
function restOf(page: string, differing: readonly string[]): string {
  const rest = page.replace(specification, "").replace(provenance, "");
  return differing.reduce((text, id) => {
    const drawing = new RegExp(`<figure id="${id}"[^>]*>.*?<figcaption>`, "s");
    return text.replace(drawing, "<figcaption>");
  }, rest);
}
