import { createHash } from "node:crypto";
import { describe, expect, it } from "vitest";
import { appendixDocument } from "../../lib/document/model/document-of.js";
import { manuscript } from "../../lib/document/pdf/manuscript.js";
import { template } from "../../lib/document/pdf/template.js";
import { renderAppendix } from "../../lib/document/render-appendix.js";
import { renderAppendixPdf } from "../../lib/document/render-appendix-pdf.js";
import { accountHtml } from "../../lib/step/show/account-html.js";
import { sampleNotebook } from "./support/sample-notebook.js";

const hashOf = (bytes: Uint8Array) => createHash("sha256").update(bytes).digest("hex");

/** What would run, end or upset a document that took words for markup. */
const hostile = [
  '#panic("read as code") #eval("1+1") $ unclosed',
  "*bold_ `raw @nowhere <label> \\u{41} // comment /* open",
  '</script><svg onload=x> ]] )) " \\ 河',
].join(" ");

const noted = {
  metadata: {},
  cells: [
    { cell_type: "markdown", source: "# The bank\n\n## Notes" },
    {
      cell_type: "code",
      source: "notes",
      execution_count: 1,
      outputs: [{ output_type: "execute_result", data: { "text/plain": hostile } }],
    },
  ],
} as const;

describe("renderAppendixPdf", () => {
  it("gives the same bytes twice, without a date", async () => {
    const notebook = await sampleNotebook();
    const [one, other] = [await renderAppendixPdf(notebook), await renderAppendixPdf(notebook)];
    expect(one.missing).toBeNull();
    expect(Buffer.from(one.pdf!).toString("latin1", 0, 5)).toBe("%PDF-");
    expect(hashOf(one.pdf!)).toBe(hashOf(other.pdf!));
    expect(Buffer.from(one.pdf!).toString("latin1")).not.toMatch(/CreationDate|ModDate/);
  });

  it("takes words for words: hostile ones reach the paper as they are", async () => {
    const { data } = manuscript(appendixDocument(noted));
    const [note] = (data as { body: { text: string }[] }).body;
    expect(note!.text.replace(/[\u200b\u2060]/g, "")).toBe(hostile.replace("河", "[U+6CB3]"));
    expect(template).not.toContain("eval(");
    expect(await renderAppendixPdf(noted)).toMatchObject({ missing: null });
  });

  it("takes a hostile field note for words in page and paper, in an account's table too", async () => {
    const account = {
      ...{ step: "openSurvey", summary: hostile, value: null, used: { note: hostile }, basis: [] },
      ...{ cautions: [{ step: "openSurvey", text: hostile }], accounting: null, figures: [] },
      tables: [
        {
          ...{ id: "notes", caption: hostile, rows: [{ text: hostile }] },
          columns: [{ field: "text", label: hostile }],
        },
      ],
    };
    const output = { output_type: "execute_result", data: { "text/html": accountHtml(account) } };
    const cell = { ...noted.cells[1], outputs: [output] } as const;
    const document = appendixDocument({ metadata: {}, cells: [noted.cells[0], cell] } as never);
    const page = renderAppendix(document);
    expect(page).not.toContain("<svg onload");
    expect(page.split("&lt;svg onload=x&gt;").length).toBeGreaterThan(5);
    const words = JSON.stringify(manuscript(document).data).replace(/[\u200b\u2060\u00a0]/g, " ");
    expect(words.split('#panic(\\"read as code\\")').length).toBeGreaterThan(5);
    expect(await renderAppendixPdf(document)).toMatchObject({ missing: null });
  });

  it("makes paper even of an empty notebook", async () => {
    expect(await renderAppendixPdf({ metadata: {}, cells: [] })).toMatchObject({ missing: null });
  });
});
