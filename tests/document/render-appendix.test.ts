import { inflateSync } from "node:zlib";
import { beforeAll, describe, expect, it } from "vitest";
import type { AppendixNotebook } from "../../lib/document/model/notebook.js";
import { renderAppendix } from "../../lib/document/render-appendix.js";
import { frozen } from "../../lib/step/frozen.js";
import { sampleNotebook } from "./support/sample-notebook.js";

let notebook: AppendixNotebook;
let page: string;

beforeAll(async () => {
  notebook = frozen(await sampleNotebook());
  page = renderAppendix(notebook);
});

/** The page without its scripts and style sheet: what a reader sees. */
function body(html: string): string {
  return html.replace(/<script\b[\s\S]*?<\/script>/g, "").replace(/<style>[\s\S]*?<\/style>/g, "");
}

function cellsOf(...cells: AppendixNotebook["cells"]): string {
  return renderAppendix({ metadata: {}, cells });
}

const markdown = (source: string) => ({ cell_type: "markdown", source }) as const;

/** The specification that stands packed beside a drawing. */
function specOf(html: string): unknown {
  const [, data = ""] = /<script [^>]*id="figure-\d+-data">([^<]*)<\/script>/.exec(html) ?? [];
  return JSON.parse(inflateSync(Buffer.from(data, "base64")).toString("utf8"));
}

describe("renderAppendix", () => {
  it("takes title, contents and list of figures from the notebook", () => {
    expect(page).toContain("<title>Sedgeholm Bank on the River Wend: technical appendix</title>");
    expect(page.match(/<h1[ >]/g)).toHaveLength(1);
    expect(page).toContain('<li class="deeper"><a href="#slices">2.1 Slices</a></li>');
    expect(page).toContain('<a href="#figure-4">4. Two zones stand out</a>');
  });

  it("numbers the figures in order, each with drawing, caption and data", () => {
    for (const number of [1, 2, 3, 4]) {
      const figure = new RegExp(`<figure id="figure-${number}"[\\s\\S]*?</figure>`).exec(page)![0];
      expect(figure).toMatch(/<svg /);
      expect(figure).toContain(`<b>Figure ${number}.</b>`);
      expect(specOf(figure)).toHaveProperty("usermeta.banquette.caption");
    }
    expect(page).not.toContain("figure-5");
  });

  it("gives every id once, and every reference inside the page has its place", () => {
    const ids = [...page.matchAll(/<[^>]* id="([^"]+)"/g)].map(([, id]) => id!);
    expect(new Set(ids).size).toBe(ids.length);
    const places = [...body(page).matchAll(/(?:url\(|href=")#([^")]+)/g)].map(([, id]) => id!);
    expect(places.length).toBeGreaterThan(10);
    expect(places.filter((id) => !ids.includes(id))).toEqual([]);
  });

  it("loads nothing: no source, no style sheet, no import, and a policy that forbids it", () => {
    const seen = page.replace(/<script>[\s\S]*?<\/script>/g, "");
    expect([...seen.matchAll(/\ssrc\s*=\s*"(?!data:)/g)]).toEqual([]);
    expect(page.replace(/<script\b[\s\S]*?<\/script>/g, "")).not.toMatch(
      /<link|<iframe|<object|@import|url\((?!#)/,
    );
    expect([...page.matchAll(/<script\b[^>]*\bsrc/g)]).toEqual([]);
    expect(page).toContain(`content="default-src 'none'; img-src data:;`);
  });

  it("lists every caution at the end, linked to its place, and says so at the front", () => {
    const front = /<aside class="front">[\s\S]*?<\/aside>/.exec(page)![0];
    expect(front).toContain('<a href="#all-cautions">3 cautions</a>');
    expect(page.indexOf(front)).toBeLessThan(page.indexOf('id="figure-1"'));
    const annex = /<section class="words annex">[\s\S]*?<\/section>/.exec(page)![0];
    expect(annex.match(/<li>/g)).toHaveLength(3);
    expect(annex).toContain('<a href="#caution-2">estimateDepthSlices: no soil');
  });

  it("puts a title block under the title, and what stands in front before all other figures", () => {
    const bundle = (data: Record<string, unknown>) =>
      ({ output_type: "display_data", data }) as const;
    const cell = (tags: string[], data: Record<string, unknown>) =>
      ({
        ...({ cell_type: "code", source: "x", execution_count: 1, metadata: { tags } } as const),
        outputs: [bundle(data)],
      }) as const;
    const picture = (text: string) => ({ "image/svg+xml": "<svg></svg>", "text/plain": text });
    const html = cellsOf(
      markdown("# The bank"),
      cell([], picture("A later figure")),
      cell(["title-block"], { "text/html": "<p>Revision A</p>" }),
      cell(["in-brief"], picture("The bank at a glance")),
    );
    const header = /<header class="title">[\s\S]*?<\/header>/.exec(html)![0];
    expect(header).toContain("Revision A");
    expect(html.split("Revision A")).toHaveLength(2);
    expect(html).toContain("<b>Figure 1.</b> The bank at a glance");
    expect(html.indexOf("<b>Figure 1.</b>")).toBeLessThan(html.indexOf("<b>Figure 2.</b>"));
  });

  it("shows streams and errors as they are", () => {
    expect(page).toContain("tried &lt;all&gt;");
    expect(page).toContain("Written to standard error");
    expect(page).toContain("This cell failed");
    expect(page).toContain("ReferenceError: nothing is not defined");
    expect(page).not.toContain("\u001b");
  });

  it("folds the code of every cell and says of a cell without a count that it was not run", () => {
    expect(page.match(/<details class="made">/g)).toHaveLength(4);
    const html = cellsOf({
      cell_type: "code",
      source: "1 < 2",
      execution_count: null,
      outputs: [],
    });
    expect(html).toContain("This cell was not run.");
    expect(html).toContain("1 &lt; 2");
  });

  it("shows raw HTML of a markdown cell as text and drops links that run something", () => {
    expect(page).toContain("&lt;script&gt;alert(1)&lt;/script&gt;");
    const html = body(
      cellsOf(markdown("[a](javascript:alert(1)) [b](findings.json) [c](//x.y/z) <b>d</b>")),
    );
    expect(html).not.toContain("javascript:");
    expect(html).toContain('<a href="findings.json">b</a>');
    expect(html).not.toContain("//x.y");
    expect(html).toContain("&lt;b&gt;d&lt;/b&gt;");
  });

  it("keeps pictures of the notebook and says which ones it leaves out", () => {
    const attachments = { "a.png": { "image/png": "iVBORw0KGgo=" } };
    const html = body(
      cellsOf({
        cell_type: "markdown",
        source: "![one](attachment:a.png) ![two](https://x.y/b.png)",
        attachments,
      }),
    );
    expect(html).toContain('<img src="data:image/png;base64,iVBORw0KGgo=" alt="one">');
    expect(html).toContain("[picture not included: two]");
  });

  it("shows a picture output as a numbered figure, its text as the caption", () => {
    const data = { "image/png": "iVBORw0K\nGgo=", "text/plain": "A photograph" };
    const html = cellsOf({
      cell_type: "code",
      source: "photo",
      execution_count: 1,
      outputs: [{ output_type: "display_data", data }],
    });
    expect(html).toContain('<img src="data:image/png;base64,iVBORw0KGgo=" alt="A photograph">');
    expect(html).toContain("<b>Figure 1.</b> A photograph");
  });

  it("leaves drawing code out of a page without such figures", () => {
    expect(cellsOf(markdown("# Short")).length).toBeLessThan(20_000);
  });

  it("cannot be ended early by what a specification says", () => {
    const spec = { title: "</script><script>alert(1)</script><!--", data: { values: [] } };
    const html = cellsOf({
      cell_type: "code",
      source: "x",
      execution_count: 1,
      outputs: [
        { output_type: "display_data", data: { "application/vnd.vegalite.v5+json": spec } },
      ],
    });
    expect(html).not.toContain("<script>alert(1)");
    expect(specOf(html)).toEqual(spec);
    expect(html).toContain("holds no drawing of this figure");
  });

  it("gives the same text twice", () => {
    expect(renderAppendix(notebook)).toBe(page);
  });

  it("makes a page even of an empty notebook", () => {
    const html = renderAppendix({ metadata: {}, cells: [] });
    expect(html).toContain("<h1>Technical appendix</h1>");
  });
});
