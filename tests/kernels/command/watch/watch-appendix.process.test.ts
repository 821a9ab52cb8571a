import { type ChildProcess, spawn } from "node:child_process";
import { readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, it } from "vitest";
import { withFolder } from "../../support/cells.js";
import { commandFile } from "../banquette.js";
import { altered, writeShortSurvey } from "../support/short-appendix.js";

/** A running command, whose words on standard error can be waited for. */
class Watching {
  readonly #child: ChildProcess;
  #told = "";

  constructor(folder: string, words: readonly string[]) {
    this.#child = spawn(process.execPath, [commandFile, ...words], { cwd: folder });
    this.#child.stderr?.on("data", (part: Buffer) => {
      this.#told += part.toString();
    });
  }

  /** Waits for a text that was not waited for before, and gives what was told up to it. */
  async until(text: string): Promise<string> {
    while (!this.#told.includes(text)) {
      if (this.#child.exitCode !== null) throw new Error(`ended: ${this.#told}`);
      await new Promise((resolve) => setTimeout(resolve, 50));
    }
    const end = this.#told.indexOf(text) + text.length;
    const before = this.#told.slice(0, end);
    this.#told = this.#told.slice(end);
    return before;
  }

  async interrupt(): Promise<number | null> {
    const closed = new Promise<number | null>((resolve) => this.#child.on("close", resolve));
    this.#child.kill("SIGINT");
    return closed;
  }

  kill(): void {
    this.#child.kill("SIGKILL");
  }
}

it("appendix --watch runs again what changed, tells faults, and ends cleanly", async () => {
  await withFolder(async (folder) => {
    await writeShortSurvey(folder);
    const words = ["appendix", "bank", "--notebook", "short.ipynb", "--out", "bank/out", "--watch"];
    const watching = new Watching(folder, words);
    try {
      await watching.until("watching bank; Ctrl-C ends it");
      expect(await readdir(join(folder, "bank/out"))).toContain("findings.json");

      await altered(join(folder, "short.ipynb"), "A short appendix", "Another appendix");
      await watching.until("short.ipynb; from the top again");
      await watching.until("watching bank");
      expect(await readFile(join(folder, "bank/out/appendix.html"), "utf8")).toContain(
        "Another appendix",
      );

      const described = join(folder, "bank/datapackage.json");
      const sound = await readFile(described, "utf8");
      await writeFile(described, "{");
      await watching.until("changed: datapackage.json");
      await watching.until("banquette: datapackage.json: must be ");
      await watching.until("watching bank");

      await writeFile(described, sound);
      await watching.until("cell 3 of");
      await altered(join(folder, "short.ipynb"), "Another appendix", "A third appendix");
      const told = await watching.until("short.ipynb; from the top again");
      expect(told).not.toContain("watching");
      await watching.until("cell 3 of");
      expect(await watching.interrupt()).toBe(0);
    } finally {
      watching.kill();
    }
    expect((await readdir(join(folder, "bank"))).filter((name) => /unfinished/.test(name))).toEqual(
      [],
    );
    expect(await readFile(join(folder, "bank/out/appendix.html"), "utf8")).toContain(
      "Another appendix",
    );
  });
});
