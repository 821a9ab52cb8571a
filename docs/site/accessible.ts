const summary = /<summary\b[\s\S]*?<\/summary>/g;
const anchorLink = /<a [^>]*class="tsd-anchor-icon"[^>]*>[\s\S]*?<\/a>/g;
const heading = /<h([1-6])\b([^>]*)>([\s\S]*?)<\/h\1>/g;

/**
 * A page with what a screen reader goes by and the generator leaves out: the main part named as such,
 * no link in what opens and closes, no heading without words, headings that skip no level. The look of a heading stays with its class.
 */
export function accessible(html: string): string {
  let last = 0;
  return html
    .replace('<div class="col-content">', '<div class="col-content" role="main">')
    .replace('<div class="page-menu">', '<div class="page-menu" role="complementary">')
    .replace(summary, (whole) => whole.replace(anchorLink, ""))
    .replace(/<th([^>]*)><\/th>/g, "<td$1></td>")
    .replace(heading, (_, level: string, attributes: string, text: string) => {
      last = Math.min(Number(level), last + 1);
      return `<h${last}${attributes}>${text}</h${last}>`;
    });
}
