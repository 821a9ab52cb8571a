import { describe, expect, it } from "vitest";
// The built runner: it starts the built worker.
import { runNotebook } from "../../../dist/kernels/notebook/run-notebook.js";
import { notebookText } from "../../../kernels/notebook/notebook-text.js";
import { parseNotebook } from "../../../kernels/notebook/read-notebook.js";
import { plain, withFolder } from "../support/cells.js";
import { code, notebook, text } from "../support/notebooks.js";

const chain = notebook(
  text("t", "# Chain"),
  code("p", "let rows = 2;", "parameters"),
  code("empty", "  \n"),
  code("planned", "throw new Error(`planned`)", "raises-exception"),
  code("shown", "console.log(1); console.log(2);\nrows * 10"),
);

describe("a notebook run from top to bottom", () => {
  it("stores outputs and counts from 1 on, and is valid nbformat 4.5", async () => {
    await withFolder(async (folder) => {
      const { notebook: ran, failed } = await runNotebook({ notebook: chain, folder });
      expect(failed).toBeNull();
      const counts = ran.cells.map((cell) => cell.cell_type === "code" && cell.execution_count);
      expect(counts).toEqual([false, 1, null, 2, 3]);
      const last = ran.cells[4];
      expect(last?.cell_type === "code" && last.outputs).toEqual([
        { output_type: "stream", name: "stdout", text: "1\n2\n" },
        {
          output_type: "execute_result",
          execution_count: 3,
          data: { "text/plain": "20" },
          metadata: {},
        },
      ]);
      const stored = notebookText(ran);
      expect(parseNotebook(stored, "ran.ipynb")).toEqual(ran);
    });
  });

  it("gives the same bytes each time, with the parameters in it", async () => {
    await withFolder(async (folder) => {
      const run = () => runNotebook({ notebook: chain, folder, set: { rows: 5 } });
      const [first, second] = [await run(), await run()];
      expect(notebookText(second.notebook)).toBe(notebookText(first.notebook));
      const last = first.notebook.cells.at(-1);
      expect(last?.cell_type === "code" && plain(last.outputs)).toBe("50");
    });
  });

  it("stops at the first cell that fails and clears what is below", async () => {
    await withFolder(async (folder) => {
      const stale = { ...code("after", "1"), execution_count: 9 };
      const given = notebook(code("a", "const x: number = ''"), stale);
      const { notebook: ran, failed } = await runNotebook({ notebook: given, folder });
      expect(failed?.cell.id).toBe("a");
      expect(failed?.error.ename).toBe("TypeCheckError");
      expect(ran.cells[1]).toMatchObject({ execution_count: null, outputs: [] });
    });
  });

  it("checks the type of a parameter", async () => {
    await withFolder(async (folder) => {
      const { failed } = await runNotebook({ notebook: chain, folder, set: { rows: "many" } });
      expect(failed?.cell.id).toBe("injected-parameters");
      expect(failed?.error.evalue).toBe("Type 'string' is not assignable to type 'number'.");
    });
  });

  it("checks the type of a constant, and gives it to what stands below", async () => {
    await withFolder(async (folder) => {
      const given = notebook(
        code("p", 'const bank = "Wend"; const rows = 2;', "parameters"),
        code("c", "bank.repeat(rows)"),
      );
      const { failed } = await runNotebook({ notebook: given, folder, set: { rows: "2" } });
      expect(failed?.error.evalue).toBe("Type 'string' is not assignable to type 'number'.");
      const run = await runNotebook({ notebook: given, folder, set: { rows: 1, bank: "Ba" } });
      const last = run.notebook.cells.at(-1);
      expect(last?.cell_type === "code" && plain(last.outputs)).toBe("'Ba'");
    });
  });

  it("reads option lines into the metadata, and errors keep the cell's own line numbers", async () => {
    await withFolder(async (folder) => {
      const stale = {
        banquette: { label: "old", kept: 1 },
        execution: { "iopub.status.busy": "" },
      };
      const given = notebook(
        { ...code("a", '#| label: fig-map\n#| caption: "The bank"\n6 * 7'), metadata: stale },
        code("only", "#| label: nothing"),
        code("b", "#| label: late\n\nthrow new Error(`planned`)"),
      );
      const { notebook: ran, failed } = await runNotebook({ notebook: given, folder });
      const [first, second] = ran.cells;
      expect(first?.metadata).toEqual({
        banquette: { kept: 1, label: "fig-map", caption: "The bank" },
      });
      expect(first?.cell_type === "code" && plain(first.outputs)).toBe("42");
      expect(first?.source).toBe(given.cells[0]?.source);
      expect(second).toMatchObject({ execution_count: null, outputs: [] });
      expect(failed?.error.traceback.join("\n")).toContain("at cell 2, line 3");
    });
  });

  it("stores the times of each cell only where asked", async () => {
    await withFolder(async (folder) => {
      const { notebook: plainRun } = await runNotebook({ notebook: chain, folder });
      for (const cell of plainRun.cells) expect(cell.metadata).not.toHaveProperty("execution");
      const { notebook: timed } = await runNotebook({ notebook: chain, folder, timing: true });
      const times = timed.cells
        .filter((cell) => cell.cell_type === "code" && cell.execution_count !== null)
        .map((cell) => cell.metadata.execution as Record<string, string>);
      expect(times).toHaveLength(3);
      for (const time of times) {
        const began = time["iopub.execute_input"]!;
        const ended = time["shell.execute_reply"]!;
        expect(new Date(began).toISOString()).toBe(began);
        expect(Date.parse(ended)).toBeGreaterThanOrEqual(Date.parse(began));
        expect(time["iopub.status.busy"]).toBe(began);
        expect(time["iopub.status.idle"]).toBe(ended);
      }
      const again = await runNotebook({ notebook: timed, folder });
      expect(notebookText(again.notebook)).toBe(notebookText(plainRun));
    });
  });

  it("works in the folder it is given, in a process of its own", async () => {
    await withFolder(async (folder) => {
      const leave = notebook(code("a", "Object.assign(globalThis, { leak: 1 });"));
      const look = notebook(code("a", '[process.cwd(), "leak" in globalThis].join()'));
      expect((await runNotebook({ notebook: leave, folder })).failed).toBeNull();
      const second = await runNotebook({ notebook: look, folder });
      const cell = second.notebook.cells[0];
      expect(cell?.cell_type === "code" && plain(cell.outputs)).toBe(`'${folder},false'`);
    });
  });

  it("hands on how far a long call within a cell is", async () => {
    const long = 'globalThis[Symbol.for("banquette.progress")]?.("walk", 1, 4);';
    await withFolder(async (folder) => {
      const calls: unknown[] = [];
      await runNotebook({
        notebook: notebook(code("long", `// unchecked\n${long}`)),
        folder,
        onProgress: ({ call }) => void calls.push(call),
      });
      expect(calls).toMatchObject([null, { what: "walk", done: 1, total: 4 }, null]);
    });
  });

  it("reports each cell before and after it runs", async () => {
    await withFolder(async (folder) => {
      const seen: string[] = [];
      await runNotebook({
        notebook: chain,
        folder,
        onProgress: ({ cell, number, of, elapsed_s }) =>
          seen.push(`${cell.id} ${number}/${of} ${elapsed_s === null ? "starts" : "ends"}`),
      });
      expect(seen).toEqual([
        "p 1/3 starts",
        "p 1/3 ends",
        "planned 2/3 starts",
        "planned 2/3 ends",
        "shown 3/3 starts",
        "shown 3/3 ends",
      ]);
    });
  });

  it("can be interrupted while a cell computes", async () => {
    await withFolder(async (folder) => {
      const given = notebook(code("a", "while (true) {}"));
      const interrupt = new AbortController();
      const running = runNotebook({
        notebook: given,
        folder,
        signal: interrupt.signal,
        onProgress: () => setTimeout(() => interrupt.abort(), 2000),
      });
      await expect(running).rejects.toMatchObject({ name: "AbortError" });
    });
  });

  it("tells when a cell ends the process", async () => {
    await withFolder(async (folder) => {
      const given = notebook(code("a", "process.exit(3)", "raises-exception"));
      const { failed } = await runNotebook({ notebook: given, folder });
      expect(failed?.error.evalue).toBe("the process in which the cells run ended (exit code 3)");
    });
  });
});
