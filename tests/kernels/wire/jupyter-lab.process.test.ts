import { afterAll, beforeAll, expect, it } from "vitest";
import { describeWith } from "../../support/needs.js";
import { type OpenNotebook, openNotebook } from "../support/jupyter-lab.js";

const cells = {
  slider: "const slope = slider({ label: 'Slope', min: 1, max: 5, value: 2 });",
  select: "const soil = select(['clay', 'sand'] as const, { label: 'Soil' });",
  table: "table([{ soil: 'clay', depth_m: 2 }, { soil: 'sand', depth_m: 1 }], { sortable: true })",
  progress: "for (const level of progress([1, 2, 3], { label: 'Levels' })) { level; }",
  values: "[slope.value, soil.value].join(' ')",
  debugged: "const twice = (x: number) => {\n  const y = 2 * x;\n  return y;\n};\ntwice(21)",
};
const at = (name: keyof typeof cells) => Object.keys(cells).indexOf(name);

const classicCells = {
  made: "const levels = [1, 2];",
  from: "const top = levels.at(-1);",
  remade: "const levels = [1];",
  used: "top",
  fails:
    "display(vegaLite({ data: { values: [{ x: 1, y: 2 }] }, mark: 'bar',\n" +
    "  encoding: { x: { field: 'x', type: 'nominal' }, y: { field: 'y', type: 'quantitative' } } }));\n" +
    "throw new RangeError('no such depth');",
  computes: "console.log('begun'); while (true) {}",
};
const classicCell = (name: keyof typeof classicCells) =>
  `Jupyter.notebook.get_cell(${Object.keys(classicCells).indexOf(name)})`;
const classicCount = (name: keyof typeof classicCells) =>
  `${classicCell(name)}.input_prompt_number`;
const classicOutput = (name: keyof typeof classicCells) =>
  `${classicCell(name)}.element[0].querySelector(".output_wrapper")`;
const classicText = (name: keyof typeof classicCells) => `${classicOutput(name)}.innerText.trim()`;

let opened: OpenNotebook;
const output = (name: keyof typeof cells) =>
  `document.querySelectorAll('.jp-Notebook .jp-Cell')[${at(name)}].querySelector('.jp-OutputArea')`;
const textOf = (name: keyof typeof cells) => `${output(name)}.innerText`;

describeWith("jupyterlab", "in JupyterLab", () =>
  describeWith("chromium", "in Chromium", () => {
    beforeAll(async () => {
      opened = await openNotebook(Object.values(cells));
    }, 120_000);
    afterAll(() => opened?.close());

    it("a slider and a list give what is chosen", async () => {
      const { page } = opened;
      for (const name of ["slider", "select"] as const) await opened.run(at(name));
      await page.until(`${output("slider")}.querySelector('.noUi-handle') !== null`);
      await page.evaluate(`${output("slider")}.querySelector('.noUi-handle').focus()`);
      await page.press("ArrowRight", 39);
      await page.until(`${output("select")}.querySelector('select') !== null`);
      await page.evaluate(`(() => {
        const list = ${output("select")}.querySelector("select");
        list.selectedIndex = 1;
        list.dispatchEvent(new Event("change", { bubbles: true }));
      })()`);
      await expect
        .poll(
          async () => {
            await opened.run(at("values"));
            return await page.evaluate(textOf("values"));
          },
          { timeout: 15_000 },
        )
        .toContain("3 sand");
    }, 60_000);

    it("a table sorts its rows, and progress draws its bar", async () => {
      const { page } = opened;
      await opened.run(at("table"));
      const rows = `[...${output("table")}.querySelectorAll("tbody tr")].map((row) => row.innerText.trim())`;
      await page.until(`${rows}.length === 2 && /clay/.test(${rows}[0])`);
      await page.evaluate(`(() => {
        const list = ${output("table")}.querySelector("select");
        list.selectedIndex = [...list.options].findIndex(({ text }) => text === "depth_m");
        list.dispatchEvent(new Event("change", { bubbles: true }));
      })()`);
      await page.until(`/sand/.test(${rows}[0])`);
      await page.click(`${output("table")}.querySelector("button")`);
      await page.until(`/clay/.test(${rows}[0])`);
      await opened.run(at("progress"));
      await page.until(`/Levels/.test(${textOf("progress")}) && /3/.test(${textOf("progress")})`);
      await page.picture("lab-widgets");
    }, 60_000);

    it("a breakpoint stops a cell with its variables shown, and the cell goes on", async () => {
      const { page } = opened;
      await page.click("document.querySelector('.jp-DebuggerBugButton')");
      await page.until(
        "document.querySelector('.jp-DebuggerBugButton')?.getAttribute('aria-pressed') === 'true'",
      );
      const cell = `document.querySelectorAll('.jp-Notebook .jp-Cell')[${at("debugged")}]`;
      await page.evaluate(`${cell}.scrollIntoView()`);
      const lines = `${cell}.querySelector('.cm-breakpoint-gutter').querySelectorAll('.cm-gutterElement')`;
      await page.until(`${cell}.querySelector('.cm-breakpoint-gutter') !== null`);
      await page.click(`${lines}[3]`);
      await page.until(
        `${cell}.querySelector('.cm-breakpoint-marker, .cm-breakpoint-icon') !== null || ${cell}.querySelector('.cm-breakpoint-gutter').innerText.includes('●')`,
      );
      // The list of breakpoints is filled once the kernel has answered; the mark in the gutter before.
      const side =
        "document.querySelector('.jp-DebuggerSidebar, .jp-debugger-sidebar, #jp-debugger-sidebar')?.innerText ?? ''";
      await page.until(`/BREAKPOINTS\\s+\\S+\\s+3/.test(${side})`);
      await opened.begin(at("debugged"));
      await page.until(`/twice/.test(${side}) && /42/.test(${side})`);
      await page.picture("lab-debugger");
      await opened.command("debugger:continue");
      await page.until(`/42/.test(${textOf("debugged")})`);
    }, 60_000);

    it("the classic notebook shows notices, figures and errors, and goes on after an interrupt", async () => {
      const page = await opened.openClassic(Object.values(classicCells));
      try {
        await page.evaluate("Jupyter.notebook.execute_cells([0, 1, 2, 3, 4])");
        await page.until(`typeof ${classicCount("fails")} === "number"`);
        expect(await page.evaluate(classicText("used"))).toMatch(
          /run \[2\] again\.\s+Out\[4\]:\s*2$/,
        );
        await page.until(`${classicOutput("fails")}.querySelector("svg, img") !== null`);
        expect(await page.evaluate(classicText("fails"))).toContain("RangeError: no such depth");
        await page.evaluate("Jupyter.notebook.execute_cells([5])");
        await page.until(`/begun/.test(${classicText("computes")})`);
        await page.evaluate("Jupyter.notebook.kernel.interrupt()");
        await page.until(`/Interrupted/.test(${classicText("computes")})`);
        await page.evaluate("Jupyter.notebook.execute_cells([3])");
        await page.until(`/Out\\[7\\]:\\s*2$/.test(${classicText("used")})`);
        await page.picture("classic-notebook");
      } finally {
        await page.close();
      }
    }, 90_000);
  }),
);
