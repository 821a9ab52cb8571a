import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { demoFiles } from "../../data-demo/generator/survey-files.js";
import { writeFiles } from "../../data-demo/generator/write-files.js";
import { DEMO } from "./demo-folder.js";

describe("the generator", () => {
  let folder = "";
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), "sedgeholm-"));
    writeFiles(folder, demoFiles());
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it("makes the committed demo survey and its truth, byte for byte", () => {
    const different = filesOf(folder).filter((path) => {
      return !readFileSync(join(folder, path)).equals(readFileSync(join(DEMO, path)));
    });
    expect(different).toEqual([]);
  });

  it("makes every file that is committed", () => {
    const committed = filesOf(DEMO).filter((path) => path.startsWith("sedgeholm"));
    expect(filesOf(folder)).toEqual(committed);
  });
});

function filesOf(folder: string): string[] {
  const entries = readdirSync(folder, { recursive: true, withFileTypes: true });
  const files = entries.filter((entry) => entry.isFile());
  return files.map((entry) => join(entry.parentPath, entry.name).slice(folder.length + 1)).sort();
}
