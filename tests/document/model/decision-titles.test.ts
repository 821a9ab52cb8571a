import { describe, expect, it } from "vitest";
import { decisionWords } from "../../../lib/chain/decisions/decision-words.js";
import { standardLinks } from "../../../lib/chain/standard-links.js";
import type { DecisionBlock, TableBlock } from "../../../lib/document/model/block.js";
import { blocksOf } from "../../../lib/document/model/blocks-of.js";
import { withDecisionTitles } from "../../../lib/document/model/decision-titles.js";
import { plainText } from "../../../lib/document/model/inline.js";
import { decide } from "../../../lib/step/decision.js";

const shown = (name: string, value: unknown) => {
  const decision = decide(name, value, { because: "Repairs are longer.", alternatives: [20] });
  const show = decision[Symbol.for("Jupyter.display") as never] as () => { "text/html": string };
  const [block] = withDecisionTitles(blocksOf(show.call(decision)["text/html"]));
  return plainText((block as DecisionBlock).content);
};

describe("decisions in words", () => {
  it("open with what is decided, its value and unit, and the option's name", () => {
    expect(shown("segmentBlocks.minLength_m", 40)).toBe(
      "Shortest block: 40 m segmentBlocks.minLength_m. Repairs are longer. Alternatives: 20.",
    );
    expect(shown("invertSection.correctShape", true)).toMatch(/: yes invertSection.correctShape\./);
  });

  it("of a name of one's own stay as they are", () => {
    expect(shown("Where to stop", 40)).toMatch(/^Decided: Where to stop = 40\./);
  });

  it("stand in tables by what they decide", () => {
    const html =
      "<table><thead><tr><th>Decision</th></tr></thead><tbody><tr><td>siteBoreholes.holes</td></tr>" +
      "<tr><td>another</td></tr></tbody></table>";
    const [table] = withDecisionTitles(blocksOf(html));
    expect((table as TableBlock).rows.map(([cell]) => plainText(cell!.content))).toEqual([
      "Boreholes to propose at the most siteBoreholes.holes",
      "another",
    ]);
  });

  it("have words for every option that can be decided", () => {
    for (const { step } of standardLinks) {
      for (const [option, { role }] of Object.entries(step.options)) {
        if (role !== "choice") continue;
        expect(decisionWords(`${step.name}.${option}`)?.title, option).toMatch(/\S/);
      }
    }
  });
});
