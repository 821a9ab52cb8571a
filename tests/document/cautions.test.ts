import { expect, it } from "vitest";
import { markCautions } from "../../lib/document/cautions.js";

it("gives every box of cautions an id and lists its sentences", () => {
  let n = 0;
  const section = "1 The survey";
  const box = (inner: string) => `<div class="bq-caution" role="note">${inner}</div>`;
  const html = `a${box("<p><strong>Caution.</strong> One.</p><p>Two &amp; <b>so</b>.</p>")}${box("")}b`;
  const marked = markCautions(html, { nextId: () => `c${++n}`, section });
  expect(marked.cautions).toEqual([
    { id: "c1", section, html: "One." },
    { id: "c1", section, html: "Two &amp; <b>so</b>." },
  ]);
  expect(marked.html.match(/<div class="bq-caution" id="c\d" role="note">/g)).toHaveLength(2);
  const none = markCautions("<p>none</p>", { nextId: () => "x", section });
  expect(none).toEqual({ html: "<p>none</p>", cautions: [] });
});
