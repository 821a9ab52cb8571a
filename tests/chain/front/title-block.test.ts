import { expect, it } from "vitest";
import { titleBlock } from "../../../lib/chain/front/title-block.js";
import { expectFault } from "../../support/expect-fault.js";
import { smallSurvey } from "../../support/small-survey.js";

const edition = {
  version: "1.2.0",
  created: "2032-04-01",
  contributors: [
    { title: "A. Reed", role: "author", organization: "Wend Ground" },
    { title: "B. Sedge", role: "", organization: "" },
  ],
};
const textOf = (block: ReturnType<typeof titleBlock>, asked: string) =>
  block.entries.find(({ label }) => label === asked)?.text;

it("takes from the data package what it states, and from the author the rest", () => {
  const block = titleBlock({ ...smallSurvey(), edition }, { client: "Wend Board", revision: "B" });
  expect(textOf(block, "Author")).toBe("A. Reed, Wend Ground");
  expect(textOf(block, "Survey by")).toBe("B. Sedge");
  expect(textOf(block, "Client")).toBe("Wend Board");
  expect(textOf(block, "Revision")).toBe("B");
  expect(textOf(block, "Data")).toBe("version 1.2.0, 2032-04-01");
  const other = titleBlock({ ...smallSurvey(), edition }, { author: "C. Rush" });
  expect(textOf(other, "Author")).toBe("C. Rush");
});

it("says what nobody states, and shows no markup of the survey's", () => {
  const block = titleBlock({ ...smallSurvey(), title: "<b>x</b>" });
  const shown = block[Symbol.for("Jupyter.display") as never] as () => Record<string, string>;
  const { "text/html": html, "text/plain": plain } = shown.call(block);
  expect(html).toContain("&lt;b&gt;x&lt;/b&gt;");
  expect(html).toContain("not stated");
  expect(plain).toContain("Client: not stated");
});

it("refuses what is no text and what it does not know", () => {
  const wrong = () => titleBlock(smallSurvey(), { client: 3, refrence: "x" } as never);
  expectFault(wrong, "option-value options.client must be a text, got 3");
  expect(wrong).toThrow(/refrence .*did you mean reference\?/s);
});
