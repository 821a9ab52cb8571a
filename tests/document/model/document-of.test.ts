import { beforeAll, describe, expect, it } from "vitest";
import type { AppendixDocument } from "../../../lib/document/model/appendix-document.js";
import { everyBlock } from "../../../lib/document/model/block.js";
import { appendixDocument, headingText } from "../../../lib/document/model/document-of.js";
import { sampleNotebook } from "../support/sample-notebook.js";

let document: AppendixDocument;

beforeAll(async () => {
  const provenance = { inputs: [{ path: "walk.csv", sha256: "ab".repeat(32), bytes: 1234 }] };
  document = appendixDocument(await sampleNotebook(), { provenance });
});

const headings = (...sources: readonly string[]) =>
  appendixDocument({
    metadata: {},
    cells: sources.map((source) => ({ cell_type: "markdown", source })),
  }).headings.map(headingText);

describe("appendixDocument", () => {
  it("numbers sections that carry no numbers, and those below in each", () => {
    expect(document.headings.map(headingText)).toEqual([
      "1 Drift",
      "2 Depth",
      "2.1 Slices",
      "3 Seepage",
    ]);
  });

  it("keeps the numbers that the notebook gives, on which its words rest", () => {
    expect(headings("## 2 Drift", "### What it is\n\n### 2.7 More", "## Last", "### Left")).toEqual(
      [...["2 Drift", "2.1 What it is", "2.7 More", "Last", "Left"]],
    );
  });

  it("numbers figures and tables through the whole document", () => {
    const blocks = everyBlock(document.body.flatMap((part) => part.blocks));
    const numbers = (kind: "figure" | "table") =>
      blocks.flatMap((block) => (block.kind === kind && block.number ? [block.number] : []));
    expect(numbers("figure")).toEqual([1, 2, 3, 4]);
    expect(numbers("table")).toEqual([1, 2, 3, 4, 5, 6]);
  });

  it("gathers sources, each once with what stands on it", () => {
    expect(document.sources).toEqual([
      {
        source: "Wait 1982; Ward & Hohmann 1988",
        statements: ["The response of a layered earth is computed in full."],
      },
      { source: "common practice", statements: ["Base checks at a fixed spot bound the drift."] },
    ]);
  });

  it("says what it was made from", () => {
    expect(document.provenance).toMatchObject([
      { kind: "paragraph" },
      { kind: "table", rows: [[{ content: ["walk.csv"] }, { content: ["1,234"] }, {}]] },
    ]);
  });
});
