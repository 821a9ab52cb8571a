import { expect, it } from "vitest";
import type { TableBlock } from "../../../lib/document/model/block.js";
import { blocksOf } from "../../../lib/document/model/blocks-of.js";
import { stepPlaces, withPlaces } from "../../../lib/document/model/step-places.js";

const how = (step: string) =>
  `<details class="bq-how"><summary>How <code>${step}</code> did it</summary><p>x</p></details>`;
const table = (...cells: readonly string[]) =>
  "<table><thead><tr><th>No.</th><th>Where</th></tr></thead><tbody>" +
  `${cells.map((cell) => `<tr><td>1</td><td>${cell}</td></tr>`).join("")}</tbody></table>`;

const numbered = blocksOf(
  `<h2 id="drift">Drift</h2>${how("correctDrift")}<h3 id="depth">Depth</h3>${how("estimateDepthSlices")}`,
).map((block) =>
  block.kind === "heading" && block.id === "drift" ? { ...block, number: "2" } : block,
);
const places = stepPlaces(numbered);
const whereOf = (html: string) =>
  (withPlaces(blocksOf(html), places)[0] as TableBlock).rows.map((row) => row[1]!.content);

it("says in which section a step that a table names stands, and a dash where in none", () => {
  expect(whereOf(table("correctDrift, estimateDepthSlices", "invertSection"))).toEqual([
    [
      "",
      { kind: "link", to: "#drift", content: ["section 2"] },
      ", ",
      { kind: "link", to: "#depth", content: ["Depth"] },
    ],
    ["–"],
  ]);
});

it("leaves a column of places on the bank alone", () => {
  expect(whereOf(table("120–130 m"))).toEqual([["120–130 m"]]);
});
