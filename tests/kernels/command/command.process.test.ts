import { spawn } from "node:child_process";
import { mkdir, readdir, readFile, writeFile } from "node:fs/promises";
import { basename, join } from "node:path";
import { describe, expect, it } from "vitest";
import type { CodeCell } from "../../../kernels/notebook/notebook.js";
import { notebookText } from "../../../kernels/notebook/notebook-text.js";
import { parseNotebook } from "../../../kernels/notebook/read-notebook.js";
import { repository, withFolder } from "../support/cells.js";
import { code, notebook, text } from "../support/notebooks.js";
import { banquetteIn, commandFile } from "./banquette.js";

const demo = join(repository, "data-demo/sedgeholm");

const banquette = (folder: string, ...words: readonly string[]) => banquetteIn(folder, words);

describe("the command", () => {
  const wrong: readonly (readonly [readonly string[], string])[] = [
    [[], "Usage: banquette"],
    [["sing"], "banquette: unknown command 'sing'"],
    [["check"], "banquette: missing required argument 'FOLDER'"],
    [["check", ".", "--deep"], "banquette: unknown option '--deep'"],
    [["run", "a.ipynb", "--set", "rows"], 'banquette: --set must be name=value, got "rows"'],
  ];
  for (const [words, message] of wrong) {
    it(`exits 2 on wrong usage: ${words.join(" ") || "nothing"}`, async () => {
      const { exitCode, out, err } = await banquette(repository, ...words);
      expect({ exitCode, out }).toEqual({ exitCode: 2, out: "" });
      expect(err).toContain(message);
      expect(err).not.toMatch(/^ {4}at /m);
    });
  }

  it("tells its version and its commands", async () => {
    expect((await banquette(repository, "--version")).out).toMatch(/^\d+\.\d+\.\d+\n$/);
    const { exitCode, out } = await banquette(repository, "--help");
    expect(exitCode).toBe(0);
    expect([...out.matchAll(/^ {2}([a-z]+) /gm)].map(([, name]) => name)).toEqual([
      "check",
      "run",
      "appendix",
      "review",
      "new",
      "add",
      "inventory",
      "kernel",
      "completion",
    ]);
  });
});

describe("banquette check", () => {
  it("exits 0 on the demo and tells what each step has to work with", async () => {
    const { exitCode, out, err } = await banquette(repository, "check", demo);
    expect({ exitCode, err }).toEqual({ exitCode: 0, err: "" });
    expect(out).toMatch(/^No faults\.\n/);
    expect(out).toContain("drift");
    expect(out).toMatch(
      /\n8,013 readings of 2 campaigns; 9 of 9 steps have what they need; \d+ cautions\nNext: banquette appendix .*sedgeholm\n$/,
    );
  });

  it("prints JSON alone where asked, faults in it, and exits 1 on a fault", async () => {
    await withFolder(async (folder) => {
      const { exitCode, out, err } = await banquette(folder, "check", ".", "--json");
      expect({ exitCode, err }).toEqual({ exitCode: 1, err: "" });
      const { ok, faults } = JSON.parse(out);
      expect(ok).toBe(false);
      expect(faults[0].file).toBe("datapackage.json");
    });
  });

  it("exits 1 with one line a fault, and the stack only where asked", async () => {
    await withFolder(async (folder) => {
      const plainly = await banquette(folder, "check", ".");
      expect(plainly.exitCode).toBe(1);
      expect(plainly.err.trimEnd().split("\n")).toEqual([
        expect.stringMatching(/^banquette: datapackage\.json: must be /),
      ]);
      expect((await banquette(folder, "check", ".", "--trace")).err).toMatch(/^ {4}at /m);
      expect(await readdir(folder)).toEqual([]);
    });
  });
});

const sample = notebook(
  text("t", "# Sums along the Wend"),
  code("p", "let rows = 2;", "parameters"),
  code("c", "rows * 10"),
);

describe("banquette run", () => {
  it("writes the executed notebook where asked, and tells its progress", async () => {
    await withFolder(async (folder) => {
      await writeFile(join(folder, "a.ipynb"), notebookText(sample));
      const words = ["run", "a.ipynb", "--set", "rows=4", "--out", "deep/b.ipynb"];
      const { exitCode, out, err } = await banquette(folder, ...words);
      expect({ exitCode, out }).toEqual({
        exitCode: 0,
        out: "3 cells ran. Written to deep/b.ipynb\n",
      });
      expect(err).toMatch(/^cell 1 of 3 {2}Sums along the Wend {2}\d+\.\d s\ncell 2 of 3 {2}/);
      const ran = parseNotebook(await readFile(join(folder, "deep/b.ipynb"), "utf8"), "b.ipynb");
      const last = ran.cells.at(-1);
      expect(last?.cell_type === "code" && last.outputs).toMatchObject([
        { data: { "text/plain": "40" } },
      ]);
      expect(await readdir(join(folder, "deep"))).toEqual(["b.ipynb"]);
    });
  });

  it("exits 1 at the first failing cell and shows it, shortened, with its trace", async () => {
    await withFolder(async (folder) => {
      const long = [...Array(20).fill("// a remark"), "throw new RangeError('too high')"].join(
        "\n",
      );
      await writeFile(join(folder, "a.ipynb"), notebookText(notebook(code("sum", long))));
      const { exitCode, err } = await banquette(folder, "run", "a.ipynb", "--out", "b.ipynb");
      expect(exitCode).toBe(1);
      expect(err).toContain('banquette: a.ipynb: cell 1 ("sum") failed: RangeError: too high\n');
      expect(err).toContain("   1 | // a remark\n");
      expect(err).toContain("  … 9 more lines\n");
      expect(err).toContain("> 21 | throw new RangeError('too high')\n");
      expect(err).toContain("    at cell 1, line 21\n");
      expect(await readdir(folder)).toEqual(["a.ipynb"]);
    });
  });

  it("says where the stored notebook had run out of order, and stores times where asked", async () => {
    await withFolder(async (folder) => {
      const cells = [code("a", "#| label: first\n1"), code("b", "2")];
      const [above, below] = cells as [CodeCell, CodeCell];
      const stored = notebook({ ...above, execution_count: 5 }, { ...below, execution_count: 2 });
      await writeFile(join(folder, "a.ipynb"), notebookText(stored));
      const words = ["run", "a.ipynb", "--timing", "--out", "b.ipynb"];
      const { exitCode, err } = await banquette(folder, ...words);
      expect(exitCode).toBe(0);
      expect(err).toMatch(
        /^note: a\.ipynb was stored out of order: cell 2 \(\[2\]\) ran before cell 1 \(\[5\]\)/,
      );
      expect(err).toContain("cell 1 of 2  first  ");
      const ran = parseNotebook(await readFile(join(folder, "b.ipynb"), "utf8"), "b.ipynb");
      for (const cell of ran.cells) {
        expect(cell.metadata.execution).toHaveProperty(["iopub.execute_input"]);
      }
    });
  });

  it("exits 2 on a parameter that the notebook does not declare", async () => {
    await withFolder(async (folder) => {
      await writeFile(join(folder, "a.ipynb"), notebookText(sample));
      const { exitCode, err } = await banquette(folder, "run", "a.ipynb", "--set", "row=1");
      expect(exitCode).toBe(2);
      expect(err).toMatch(/^banquette: parameter "row": must be one that .* declares \(rows\)\n$/);
    });
  });

  it("exits 1 on a file that is no notebook", async () => {
    await withFolder(async (folder) => {
      await writeFile(join(folder, "a.ipynb"), "{}");
      const { exitCode, err } = await banquette(folder, "run", "a.ipynb");
      expect(exitCode).toBe(1);
      expect(err).toContain("banquette: a.ipynb: the notebook must have required property 'cells'");
    });
  });
});

const handing = notebook(
  text("t", "# A small appendix"),
  code("p", 'const surveyFolder = ".";\nconst outputFolder = ".";', "parameters"),
  code(
    "w",
    'import { writeFile } from "node:fs/promises";\nimport { join } from "node:path";\n' +
      'for (const [name, text] of [["findings.json", "{}\\n"], ["accounting.csv", "a\\n"], ["provenance.json", "{\\"inputs\\":[]}\\n"]])\n' +
      "  await writeFile(join(outputFolder, name), text);\n[surveyFolder, outputFolder]",
  ),
);

describe("banquette appendix", () => {
  it("writes everything into one folder, with no path of the machine in it", async () => {
    await withFolder(async (folder) => {
      const cells = [...handing.cells, code("tides", 'import "wend-tides"; // install 1.2.0')];
      await writeFile(join(folder, "n.ipynb"), notebookText({ ...handing, cells }));
      const without = await banquette(folder, "run", "n.ipynb");
      expect(without.exitCode).toBe(1);
      expect(without.err).toMatch(
        /^banquette: cell "tides" asks .* wend-tides 1\.2\.0, which is not installed here\nbanquette: a run .*: npm install --prefix \S+ --save-exact --ignore-scripts wend-tides@1\.2\.0\n$/,
      );
      await mkdir(join(folder, "node_modules/wend-tides"), { recursive: true });
      const manifest = { name: "wend-tides", version: "1.2.0", type: "module", main: "index.js" };
      const place = join(folder, "node_modules/wend-tides");
      await writeFile(join(place, "package.json"), JSON.stringify(manifest));
      await writeFile(join(place, "index.js"), "");
      const words = ["appendix", demo, "--notebook", "n.ipynb", "--out", "made"];
      const { exitCode, err } = await banquette(folder, ...words);
      expect({ exitCode, err }).toEqual({ exitCode: 0, err: expect.any(String) });
      const made = await readdir(join(folder, "made"));
      expect(made.sort()).toEqual([
        "accounting.csv",
        "appendix.html",
        "appendix.ipynb",
        "appendix.pdf",
        "findings.json",
        "provenance.json",
      ]);
      const stored = await readFile(join(folder, "made/appendix.ipynb"), "utf8");
      expect(stored).toContain('const surveyFolder: string = \\"sedgeholm\\";');
      expect(JSON.parse(stored).metadata.banquette).toEqual({
        packages: { "wend-tides": "1.2.0" },
      });
      for (const name of made) {
        const text = await readFile(join(folder, "made", name), "utf8");
        for (const path of [repository, basename(folder), "unfinished"]) {
          expect(text).not.toContain(path);
        }
      }
      const provenance = JSON.parse(await readFile(join(folder, "made/provenance.json"), "utf8"));
      expect(provenance).toMatchObject({
        inputs: [],
        notebook: { file: "n.ipynb", sha256: expect.stringMatching(/^[0-9a-f]{64}$/) },
        cells: [{ id: "p" }, { id: "w" }, { id: "tides" }],
        versions: {
          node: process.versions.node,
          packages: { tslab: "1.0.22", "wend-tides": "1.2.0" },
        },
      });
      expect(err).toContain("running n.ipynb, as --notebook asks\n");
      expect(await readdir(folder)).toEqual(["made", "n.ipynb", "node_modules"]);
    });
  });

  it("leaves the folder of an earlier run as it was where a cell fails", async () => {
    await withFolder(async (folder) => {
      const failing = { ...handing, cells: [...handing.cells, code("f", "throw new Error('no')")] };
      await writeFile(join(folder, "n.ipynb"), notebookText(failing));
      await mkdir(join(folder, "appendix-out"));
      await writeFile(join(folder, "appendix-out/findings.json"), "earlier");
      const { exitCode, err } = await banquette(folder, "appendix", demo, "--notebook", "n.ipynb");
      expect(exitCode).toBe(1);
      expect(err).toContain('banquette: n.ipynb: cell 4 ("f") failed: Error: no\n');
      expect(await readdir(join(folder, "appendix-out"))).toEqual(["findings.json"]);
      expect(await readFile(join(folder, "appendix-out/findings.json"), "utf8")).toBe("earlier");
      const kept = "appendix-out.failed-run.ipynb";
      expect(await readdir(folder)).toEqual(["appendix-out", kept, "n.ipynb"]);
      const { cells, metadata } = parseNotebook(await readFile(join(folder, kept), "utf8"), kept);
      expect(metadata.failedRun).toBe(true);
      expect(cells[0]?.source).toContain("A run that failed, not an appendix.");
      expect(cells.find(({ id }) => id === "w")).toMatchObject({
        outputs: [{ output_type: "execute_result" }],
      });
      expect(cells.at(-1)).toMatchObject({ outputs: [{ output_type: "error", evalue: "no" }] });
      expect(await readFile(join(folder, kept), "utf8")).not.toContain(repository);
    });
  });

  it("is interrupted cleanly, with no half-written folder", async () => {
    await withFolder(async (folder) => {
      const endless = { ...handing, cells: [...handing.cells, code("e", "while (true) {}")] };
      await writeFile(join(folder, "n.ipynb"), notebookText(endless));
      const words = ["appendix", demo, "--notebook", "n.ipynb"];
      const child = spawn(process.execPath, [commandFile, ...words], { cwd: folder });
      child.stderr.on("data", (chunk: Buffer) => {
        if (chunk.toString().includes("cell 3 of 4")) child.kill("SIGINT");
      });
      expect(await new Promise((resolve) => child.on("close", resolve))).toBe(1);
      expect(await readdir(folder)).toEqual(["n.ipynb"]);
    });
  });

  it("refuses what check refuses, and writes nothing", async () => {
    await withFolder(async (folder) => {
      const check = await banquette(folder, "check", ".");
      const appendix = await banquette(folder, "appendix", ".");
      expect(appendix.exitCode).toBe(1);
      expect(appendix.err).toBe(check.err);
      expect(await readdir(folder)).toEqual([]);
    });
  });

  it("asks a notebook for what it has to hand over", async () => {
    await withFolder(async (folder) => {
      const silent = { ...handing, cells: handing.cells.slice(0, 2) };
      await writeFile(join(folder, "n.ipynb"), notebookText(silent));
      const { exitCode, err } = await banquette(folder, "appendix", demo, "--notebook", "n.ipynb");
      expect(exitCode).toBe(1);
      expect(err).toContain("findings.json and accounting.csv and provenance.json not written");
    });
  });
});
