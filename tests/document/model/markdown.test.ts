import { describe, expect, it } from "vitest";
import { renderMarkdown } from "../../../lib/document/model/markdown.js";

const rendered = (source: string, attachments = {}) => renderMarkdown(source, { attachments });

describe("renderMarkdown", () => {
  it("shows raw HTML as text, in lines and in blocks", () => {
    const html = rendered("a <b>c</b>\n\n<script>alert(1)</script>");
    expect(html).toContain("a &lt;b&gt;c&lt;/b&gt;");
    expect(html).not.toContain("<script");
  });

  it("keeps the words of a link that it drops", () => {
    const html = rendered("[run](javascript:alert(1)) [read](a.csv)");
    expect(html).toBe('<p>run <a href="a.csv">read</a></p>\n');
  });

  it("takes pictures from the notebook only", () => {
    const attachments = { "a.png": { "text/plain": "a", "image/png": "AA\nAA" } };
    expect(rendered("![<a>](attachment:a.png)", attachments)).toBe(
      '<p><img src="data:image/png;base64,AAAA" alt="&lt;a&gt;"></p>\n',
    );
    for (const source of ["![b](attachment:none.png)", "![b](https://x.y/b.png)"]) {
      expect(rendered(source, attachments)).toContain("<em>[picture not included: b]</em>");
    }
  });
});
