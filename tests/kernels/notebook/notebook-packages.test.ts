import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import type { CodeCell, Notebook } from "../../../kernels/notebook/notebook.js";
import { NotebookFault } from "../../../kernels/notebook/notebook-fault.js";
import {
  packagesFound,
  packagesOf,
  withPackages,
} from "../../../kernels/notebook/notebook-packages.js";
import { withFolder } from "../support/cells.js";
import { code, notebook } from "../support/notebooks.js";

async function installed(folder: string, name: string, version: string): Promise<void> {
  const place = join(folder, "node_modules", name);
  await mkdir(place, { recursive: true });
  await writeFile(join(place, "package.json"), JSON.stringify({ name, version }));
}

const asking = (version = "") =>
  code("tides", `import { high_m } from "wend-tides"; // install ${version}`.trim());

function stored(cell: CodeCell, version: string): CodeCell {
  const metadata = { banquette: { packages: { "wend-tides": version } } };
  return { ...cell, outputs: [{ output_type: "display_data", data: {}, metadata }] };
}

function faultsOf(given: Notebook, folder: string): readonly string[] {
  try {
    packagesOf(given, folder);
    return [];
  } catch (error) {
    if (!(error instanceof NotebookFault)) throw error;
    return error.faults;
  }
}

describe("packages that a notebook's cells ask for", () => {
  it("are those that an import finds, also above the folder", async () => {
    await withFolder(async (folder) => {
      await installed(folder, "wend-tides", "1.2.0");
      const inner = join(folder, "appendix-out");
      const given = notebook(asking(), code("next", 'import "wend-tides"; // install 1.2.0'));
      expect(packagesOf(given, inner)).toEqual({ "wend-tides": "1.2.0" });
      expect(packagesOf(notebook(code("one", 'import "wend-tides";')), inner)).toEqual({});
    });
  });

  it("that are missing are told, all at once, with the line that gets them", async () => {
    await withFolder(async (folder) => {
      const more = code("levels", 'import { level_m } from "@wend/levels/near"; // install');
      expect(faultsOf(notebook(asking("1.2.0"), more), folder)).toEqual([
        'cell "tides" asks for the package wend-tides 1.2.0, which is not installed here',
        'cell "levels" asks for the package @wend/levels, which is not installed here',
        `a run installs nothing by itself; this does: npm install --prefix ${folder} ` +
          "--save-exact --ignore-scripts wend-tides@1.2.0 @wend/levels",
      ]);
      expect(packagesFound(notebook(asking("1.2.0"), more), folder)).toEqual({});
    });
  });

  it("are to be of the version that the notebook ran with", async () => {
    await withFolder(async (folder) => {
      await installed(folder, "wend-tides", "1.3.0");
      const onRecord = {
        ...notebook(asking()),
        metadata: withPackages({}, { "wend-tides": "1.1.0" }),
      };
      const shown = { ...onRecord, cells: [stored(asking(), "1.2.0")] };
      const words = (version: string) =>
        `cell "tides" asks for the package wend-tides ${version}, and here is 1.3.0`;
      expect(faultsOf(onRecord, folder)[0]).toBe(words("1.1.0"));
      expect(faultsOf(shown, folder)[0]).toBe(words("1.2.0"));
      const anew = { ...shown, cells: [stored(asking("1.3.0"), "1.2.0")] };
      expect(packagesOf(anew, folder)).toEqual({ "wend-tides": "1.3.0" });
      await writeFile(
        join(folder, "package.json"),
        JSON.stringify({ dependencies: { "wend-tides": "1.0.0" } }),
      );
      expect(faultsOf(notebook(asking()), folder)[0]).toBe(words("1.0.0"));
    });
  });

  it("that are no packages are refused", () => {
    expect(faultsOf(notebook(code("own", 'import "./own.ts"; // install')), "/")).toEqual([
      'cell "own": "./own.ts" is no name of a package, which "// install" is for',
    ]);
  });

  it("stand in the metadata beside what else is there, and go when nothing asks for them", () => {
    const before = { title: "Bank", banquette: { other: 1, packages: { gone: "1.0.0" } } };
    expect(withPackages(before, { "wend-tides": "1.2.0" })).toEqual({
      title: "Bank",
      banquette: { other: 1, packages: { "wend-tides": "1.2.0" } },
    });
    expect(withPackages(before, {})).toEqual({ title: "Bank", banquette: { other: 1 } });
    expect(withPackages({ title: "Bank" }, {})).toEqual({ title: "Bank" });
  });
});
