import { accountCss } from "./account-css.js";
import { escapeHtml } from "./html.js";

/** A report as one self-contained HTML page, without a script: it works offline and prints. */
export function reportPage(title: string, body: readonly string[]): string {
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escapeHtml(title)}</title>
<style>
${accountCss}
${pageCss}
</style>
</head>
<body><main class="bq">
${[`<h1>${escapeHtml(title)}</h1>`, ...body].filter((part) => part !== "").join("\n")}
</main></body>
</html>
`;
}

/** What the report comes to: a sentence in front, and what follows from it. */
export function verdictHtml(
  sentence: string,
  { isFault, more = "" }: { readonly isFault: boolean; readonly more?: string },
): string {
  const rest = more === "" ? "" : ` ${escapeHtml(more)}`;
  const faulty = isFault ? " faulty" : "";
  return `<p class="verdict${faulty}"><strong>${escapeHtml(sentence)}</strong>${rest}</p>`;
}

/** A part of the report under its heading; nothing where it is empty. */
export function reportSection(heading: string, html: string): string {
  return html === "" ? "" : `<h2>${escapeHtml(heading)}</h2>\n<div class="scroll">${html}</div>`;
}

/** Nothing from elsewhere, and no script. */
const policy =
  "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; " +
  "form-action 'none'";

const font = `15px/1.5 Arial,"Liberation Sans",Helvetica,sans-serif`;

const pageCss = `body{margin:0;background:#fff;color:#222426;font:${font}}
main.bq{max-width:1160px;margin:0 auto;padding:2rem 1.5rem 4rem}
h1{font-size:1.7rem;line-height:1.2;margin:0 0 .8rem}
h2{font-size:1.2rem;margin:2.2rem 0 .5rem;padding-top:.5rem;border-top:1px solid #c9cdd1}
.verdict{font-size:1.05rem;padding:.6rem .9rem;border-left:5px solid #2b6ca3;background:#eef3f8}
.verdict.faulty{border-color:#b5541c;background:#fbf0ea}
.bq table.bq-table{width:100%}
.bq table.bq-table td{overflow-wrap:break-word}
.bq table.bq-table .bq-number{padding-right:1.8em}
figure svg{width:100%;height:auto}
.scroll{overflow-x:auto}
@media print{h2{break-after:avoid}tr,figure{break-inside:avoid}}`;
