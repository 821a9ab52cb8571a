import { execFile } from "node:child_process";
import { join } from "node:path";
import { promisify } from "node:util";
import { expect, it } from "vitest";
import { describeWith } from "../../support/needs.js";
import { pythons } from "../../support/python.js";
import { banquetteIn } from "../command/banquette.js";
import { withFolder } from "../support/cells.js";

const run = promisify(execFile);
const suite = join(import.meta.dirname, "suite.py");

/** What the suite writes, with its exit code. */
async function runSuite(python: string): Promise<{ readonly code: number; readonly text: string }> {
  return await withFolder(async (folder) => {
    const install = ["kernel", "install", "--name", "banquette-test"];
    await banquetteIn(folder, install, { JUPYTER_DATA_DIR: folder });
    const env = { ...process.env, JUPYTER_PATH: folder, JUPYTER_RUNTIME_DIR: join(folder, "run") };
    try {
      const { stderr } = await run(python, [suite], { cwd: folder, env });
      return { code: 0, text: stderr };
    } catch (error) {
      const { code, stderr } = error as { readonly code: number; readonly stderr: string };
      return { code, text: stderr };
    }
  });
}

function passes(python: string): void {
  it("passes whole, with nothing skipped", async () => {
    const { code, text } = await runSuite(python);
    expect(text).toMatch(/^Ran 16 tests in /m);
    expect(text).not.toMatch(/skipped|FAIL|ERROR/);
    expect(code, text).toBe(0);
  }, 120_000);
}

describeWith("kernel suite", "the public kernel test suite under the current client", () =>
  passes(pythons.current),
);
describeWith(
  "kernel suite under jupyter_client 7",
  "the public kernel test suite under jupyter_client 7",
  () => passes(pythons.old),
);
