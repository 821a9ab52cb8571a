import { describe, expect, it } from "vitest";
import { blocksOf } from "../../../lib/document/model/blocks-of.js";
import { accountHtml } from "../../../lib/step/show/account-html.js";

const paragraph = (...content: readonly unknown[]) => ({
  kind: "paragraph",
  role: "plain",
  content,
});

describe("blocksOf", () => {
  it("reads words, their marks and links, white space as a page shows it", () => {
    expect(blocksOf('<p>One\n  <em>two</em> &amp;<br><a href="#three">three</a></p>tail')).toEqual([
      paragraph(
        "One ",
        { kind: "marked", mark: "emphasis", content: ["two"] },
        " &",
        { kind: "break" },
        { kind: "link", to: "#three", content: ["three"] },
      ),
      paragraph("tail"),
    ]);
  });

  it("keeps what is text as text", () => {
    expect(blocksOf("<p>&lt;script&gt;x&lt;/script&gt;</p>")).toEqual([
      paragraph("<script>x</script>"),
    ]);
  });

  it("reads a table with its caption, its head and which columns are numbers", () => {
    const [table] = blocksOf(
      '<table class="bq-table"><caption>Rates</caption><thead><tr><th>Channel</th>' +
        '<th class="bq-number">Rate</th></tr></thead><tbody><tr><td>q</td>' +
        '<td class="bq-number">1.2</td></tr><tr><td colspan="2">none</td></tr></tbody></table>',
    );
    expect(table).toMatchObject({ kind: "table", role: "data", caption: ["Rates"], folded: false });
    expect(table).toMatchObject({
      head: [{ content: ["Channel"], isHeading: true }, { isNumeric: true }],
      rows: [[{ content: ["q"] }, { content: ["1.2"], isNumeric: true }], [{ span: 2 }]],
    });
  });

  it("takes a table folded under its own name as one table", () => {
    const [table] = blocksOf("<details><summary>All (40 rows)</summary><table></table></details>");
    expect(table).toMatchObject({ kind: "table", caption: ["All (40 rows)"], folded: true });
  });

  it("reads the account of a step: summary, counts, cautions without their opening, how", () => {
    const account = {
      ...{ step: "drift", summary: "Drift < 5 ppm.", value: null, used: { evidence: 2 } },
      basis: [{ statement: "It drifts.", source: "Kay 1998" }],
      cautions: [{ step: "drift", text: "Look & see." }],
      accounting: { readings: 3, kept: 3, corrected: 0, setAside: [] },
      ...{ figures: [], tables: [] },
    };
    const [group] = blocksOf(accountHtml(account).replace(/<style>.*?<\/style>/s, ""));
    expect(group).toMatchObject({ kind: "group", role: "account" });
    const { blocks } = group as Extract<typeof group, { kind: "group" }>;
    expect(blocks.map(({ kind }) => kind)).toEqual(["paragraph", "paragraph", "caution", "folded"]);
    expect(blocks[0]).toMatchObject({ role: "summary", content: ["Drift < 5 ppm."] });
    expect(blocks[2]).toMatchObject({ sentences: [["Look & see."]] });
    expect(blocks[3]).toMatchObject({ role: "how" });
  });
});
