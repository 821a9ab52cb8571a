import { readFileSync } from "node:fs";
import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { madeOnce } from "./made-once.js";

describe("what is made once a run", () => {
  it("is made by the first to ask, and whole for all", async () => {
    let makers = 0;
    const ask = () =>
      madeOnce("made-once-whole", async (folder) => {
        makers += 1;
        await new Promise((resolve) => setTimeout(resolve, 50));
        await writeFile(join(folder, "text"), "whole");
      });
    const folders = await Promise.all([ask(), ask(), ask()]);
    expect(makers).toBe(1);
    expect(new Set(folders).size).toBe(1);
    for (const folder of folders) expect(readFileSync(join(folder, "text"), "utf8")).toBe("whole");
  });

  it("fails for all who ask where it could not be made", async () => {
    const ask = () => madeOnce("made-once-failed", () => Promise.reject(new Error("no ground")));
    for (const asked of [ask(), ask()]) await expect(asked).rejects.toThrow("no ground");
    await expect(ask()).rejects.toThrow("no ground");
  });
});
