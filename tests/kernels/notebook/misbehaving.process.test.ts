// Cells that break what they run in: the cell fails, the program goes on, and nothing is left behind.
import { spawn } from "node:child_process";
import { readdirSync } from "node:fs";
import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { runNotebook } from "../../../dist/kernels/notebook/run-notebook.js";
import { notebookText } from "../../../kernels/notebook/notebook-text.js";
import { parseNotebook } from "../../../kernels/notebook/read-notebook.js";
import { commandFile } from "../command/banquette.js";
import { plain, withFolder } from "../support/cells.js";
import { misdeeds } from "../support/misdeeds.js";
import { code, notebook } from "../support/notebooks.js";
import { processesWith } from "../support/processes.js";

describe("a cell that", () => {
  it("breaks what it runs in fails by itself, and the next one runs", async () => {
    await withFolder(async (folder) => {
      const cells = misdeeds.flatMap(([, source], at) => [
        code(`bad-${at}`, source, "raises-exception"),
        code(`next-${at}`, `[${at}].map(String)`),
      ]);
      const { notebook: ran, failed } = await runNotebook({ notebook: notebook(...cells), folder });
      expect(failed).toBeNull();
      expect(parseNotebook(notebookText(ran), "ran.ipynb")).toEqual(ran);
      for (const [at, [what, , ename]] of misdeeds.entries()) {
        const [bad, next] = ran.cells.slice(2 * at);
        const error = bad?.cell_type === "code" && bad.outputs.find((one) => "ename" in one);
        expect(error, what).toMatchObject({ ename });
        expect(next?.cell_type === "code" && plain(next.outputs), what).toBe(`[ '${at}' ]`);
      }
    });
  });

  it.each([
    ["closes its channel", "(process as any).disconnect();\nawait new Promise(() => {})"],
    ["kills itself", 'process.kill(process.pid, "SIGKILL");\nwhile (true) {}'],
    ["ends the process a little later", "setTimeout(() => process.exit(4), 300);"],
  ])("%s ends the run, not the program", async (_, source) => {
    await withFolder(async (folder) => {
      const wait = code("wait", "await new Promise((go) => setTimeout(go, 5000))");
      const given = notebook(code("bad", source, "raises-exception"), wait);
      const { failed } = await runNotebook({ notebook: given, folder });
      expect(failed?.error.ename).toBe("KernelEnded");
    });
  });

  it("speaks to the parent as the kernel does is not heard", async () => {
    await withFolder(async (folder) => {
      const source =
        '(process as any).send?.({ kind: "done", ok: true, executionCount: 9 });\n1 + 1';
      const { notebook: ran } = await runNotebook({
        notebook: notebook(code("a", source)),
        folder,
      });
      const [cell] = ran.cells;
      expect(cell).toMatchObject({ execution_count: 1 });
      expect(cell?.cell_type === "code" && plain(cell.outputs)).toBe("2");
    });
  });

  it("writes without end is cut", async () => {
    await withFolder(async (folder) => {
      const source =
        'const line = "x".repeat(1e6);\nfor (let i = 0; i < 30; i++) console.log(line);';
      const { notebook: ran } = await runNotebook({
        notebook: notebook(code("a", source)),
        folder,
      });
      const text = JSON.stringify(ran);
      expect(text.length).toBeLessThan(10_001_000);
      expect(text).toContain("the cell wrote more than 10,000,000 characters");
    });
  });
});

async function until(holds: () => boolean, most_ms = 120_000): Promise<void> {
  for (let waited = 0; waited < most_ms && !holds(); waited += 50) {
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  expect(holds()).toBe(true);
}

const child = 'import { spawn } from "node:child_process";';
const leftovers = [
  `${child} import { createServer } from "node:http"; import { writeFileSync } from "node:fs";`,
  'spawn("sleep", ["600"]); spawn("sleep", ["600"], { detached: true, stdio: "ignore" }).unref();',
  "createServer().listen(0); setInterval(() => {}, 10);",
  'writeFileSync("ready", "");',
].join("\n");

describe.runIf(process.platform === "linux")("what a run leaves behind", () => {
  it("is nothing when it ended: no child process, no server, no timer", async () => {
    await withFolder(async (folder) => {
      const variable = `BANQUETTE_TEST=${folder}`;
      process.env.BANQUETTE_TEST = folder;
      try {
        const { failed } = await runNotebook({ notebook: notebook(code("a", leftovers)), folder });
        expect(failed).toBeNull();
      } finally {
        delete process.env.BANQUETTE_TEST;
      }
      await until(() => processesWith(variable).length === 0);
    });
  });

  it.each(["SIGKILL", "SIGTERM"] as const)(
    "is nothing when the command was ended by %s, though a cell computes",
    async (signal) => {
      await withFolder(async (folder) => {
        const variable = `BANQUETTE_TEST=${folder}`;
        const given = notebook(code("a", leftovers), code("b", "while (true) {}"));
        await writeFile(join(folder, "n.ipynb"), notebookText(given));
        const command = spawn(process.execPath, [commandFile, "run", "n.ipynb"], {
          cwd: folder,
          env: { ...process.env, BANQUETTE_TEST: folder },
          stdio: "ignore",
        });
        const isThere = () => readdirSync(folder).includes("ready");
        await until(isThere);
        expect(processesWith(variable).length).toBeGreaterThanOrEqual(4);
        command.kill(signal);
        await until(() => processesWith(variable).length === 0);
      });
    },
  );
});
