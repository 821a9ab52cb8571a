// Every notebook of the catalogue, run alone and from clean by the built runner on the demo.
import { readdirSync, rmSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { runNotebook } from "../../dist/kernels/notebook/run-notebook.js";
import { type CatalogueName, catalogueNames } from "../../kernels/command/catalogue.js";
import { hasTag, type Notebook } from "../../kernels/notebook/notebook.js";
import { notebookText } from "../../kernels/notebook/notebook-text.js";
import { parseNotebook } from "../../kernels/notebook/read-notebook.js";
import { shortDemo } from "../support/demo-parts.js";
import { repository } from "./banquette.js";

const folder = join(repository, "notebooks/cells");
const vegaLite = "application/vnd.vegalite.v5+json";

// What each notebook shows: a decision or the account of a step (html), its figures, one or more, and
// plain values (text). The demo has two campaigns.
const shown: Readonly<Record<CatalogueName, string>> = {
  survey: "html figures",
  drift: "html html figures html figures",
  interference: "html html figures html figures",
  depth: "html html figures html figures",
  blocks: "html html figures",
  campaigns: "html html figures",
  lines: "text",
  sections: "html html figures",
  seepage: "html html html figures",
  boreholes: "html figures html html figures html figures",
  findings: "html figures html figures html",
  "coil-response": "figures text",
  "spread-response": "figures text html figures",
};

let surveyFolder = "";
beforeAll(() => {
  surveyFolder = shortDemo();
});
afterAll(() => rmSync(surveyFolder, { recursive: true, force: true }));

// What is shown does not hang on the spacing of stations, how long the bank is, how many electrode lines
// there are, and the electrodes of a planned line; the time does. All of the demo is in its appendix.
function quick(name: CatalogueName): Readonly<Record<string, unknown>> {
  if (name === "coil-response") return {};
  if (name === "spread-response") return { electrodes: 24 };
  const isSpaced = ["depth", "blocks", "campaigns", "seepage", "boreholes", "findings"];
  return { surveyFolder, ...(isSpaced.includes(name) && { spacing_m: 10 }) };
}

async function read(name: string): Promise<{ text: string; notebook: Notebook }> {
  const text = await readFile(join(folder, `${name}.ipynb`), "utf8");
  return { text, notebook: parseNotebook(text, `${name}.ipynb`) };
}

function kindOf(data: Readonly<Record<string, unknown>>): string {
  if (vegaLite in data) return "image/svg+xml" in data ? "figure" : "figure without svg";
  return "text/html" in data ? "html" : "text";
}

function kindsOf({ cells }: Notebook): string {
  const outputs = cells.flatMap((cell) => (cell.cell_type === "code" ? cell.outputs : []));
  return outputs
    .map((output) => ("data" in output ? kindOf(output.data) : output.output_type))
    .join(" ")
    .replaceAll(/figure(?: figure)*\b(?! without)/g, "figures");
}

describe("the catalogue of notebooks", () => {
  it("is the files of its folder", () => {
    const files = readdirSync(folder).map((name) => name.replace(/\.ipynb$/, ""));
    expect(files.sort()).toEqual([...catalogueNames].sort());
  });

  it("has cell ids of which no two notebooks share one, but for the cells around the step", async () => {
    const ids = await Promise.all(
      catalogueNames.map(async (name) => (await read(name)).notebook.cells),
    );
    const steps = ids.flat().filter((cell) => hasTag(cell, "step"));
    expect(new Set(steps.map(({ id }) => id)).size).toBe(steps.length);
    const around = ids.flat().filter((cell) => !hasTag(cell, "step"));
    const known = ["imports", "parameters", "preparation", "title"];
    expect([...new Set(around.map(({ id }) => id))].sort()).toEqual(known);
  });

  for (const name of catalogueNames) {
    it(`${name}: is stored without outputs, as Jupyter would store it`, async () => {
      const { text, notebook } = await read(name);
      expect(text).toBe(notebookText(notebook));
      expect(kindsOf(notebook)).toBe("");
    });

    it(`${name}: holds its reasoning and the question of a reviewer`, async () => {
      const { notebook } = await read(name);
      const prose = notebook.cells.filter(
        (cell) => hasTag(cell, "step") && cell.cell_type === "markdown",
      );
      expect(prose.map(({ source }) => source).join("\n")).toMatch(/\*A reviewer will ask:\*/);
      expect(prose[0]?.source).toMatch(/^## /);
    });

    it(`${name}: runs from clean and shows what it should`, async () => {
      const { notebook } = await read(name);
      const { notebook: ran, failed } = await runNotebook({ notebook, folder, set: quick(name) });
      expect(failed?.error.traceback.join("\n")).toBeUndefined();
      expect(kindsOf(ran)).toBe(shown[name]);
      const captions = ran.cells.map((cell) => cell.metadata.banquette).filter(Boolean);
      const labels =
        name === "boreholes" ? ["fig-soils", "fig-boreholes", "fig-second"] : [`fig-${name}`];
      const caption = expect.stringMatching(/\S/);
      expect(captions).toEqual(labels.map((label) => ({ label, caption })));
    }, 500_000);
  }
});
