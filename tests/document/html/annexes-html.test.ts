import { expect, it } from "vitest";
import { annexes, cautionsPointer } from "../../../lib/document/html/annexes-html.js";
import { appendixDocument } from "../../../lib/document/model/document-of.js";

const document = appendixDocument({ metadata: {}, cells: [] });
const kind = (...texts: readonly string[]) =>
  texts.map((text, i) => ({ id: `c${i + 1}`, section: "3 Metal", content: [text] }));
const cautioned = {
  ...document,
  cautions: [{ heading: "3 Metal & <more>", kinds: [kind("At 5 m.", "At 6 <b>.")] }],
};

it("folds cautions of one kind under the first, each linked to its place", () => {
  const [annex] = annexes(cautioned);
  expect(annex).toMatchObject({ id: "all-cautions", heading: "All cautions" });
  expect(annex!.html).toContain("<h3>3 Metal &amp; &lt;more&gt;</h3>");
  expect(annex!.html).toContain('<a href="#c1">At 5 m.</a>');
  expect(annex!.html).toContain("and 1 more of this kind");
  expect(annex!.html).toContain('<a href="#c2">At 6 &lt;b&gt;.</a>');
  expect(cautionsPointer(cautioned)).toContain('<a href="#all-cautions">2 cautions of 1 kinds</a>');
});

it("leaves out what has nothing to tell", () => {
  expect(annexes(document)).toEqual([]);
  expect(cautionsPointer(document)).toBe("");
});
