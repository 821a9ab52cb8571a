import { mkdir, symlink, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Cells, errorOf, startCells, withFolder } from "../../support/cells.js";

let cells: Cells;
beforeAll(() => {
  cells = startCells();
});
afterAll(() => cells.stop());

describe("imports in a cell", () => {
  it("reach an ES module package by name and by namespace", async () => {
    const source = 'import { Matrix } from "ml-matrix";\nimport * as matrices from "ml-matrix";';
    expect(await cells.shown(source, "Matrix === matrices.Matrix")).toBe("true");
  });

  it("reach a CommonJS package by default and by name", async () => {
    const source = 'import Papa, { parse } from "papaparse";\nPapa.parse("a,b").data';
    expect(await cells.shown(source)).toBe("[ [ 'a', 'b' ] ]");
    expect(await cells.shown("parse === Papa.parse")).toBe("true");
  });

  it("reach builtin modules, also by a new name", async () => {
    const source = 'import { join as joined } from "node:path";\njoined("a", "b")';
    expect(await cells.shown(source)).toMatch(/^'a.b'$/);
  });

  it("are hoisted above the code of their cell", async () => {
    expect(await cells.shown('sep.length\nimport { sep } from "node:path"')).toBe(undefined);
    expect(await cells.shown('const n = sep.length;\nimport { sep } from "node:path"; n')).toBe(
      "1",
    );
  });

  it("may be dynamic, with any expression", async () => {
    const source = 'const which = "papaparse";\n(await import(which)).parse("1").data';
    expect(await cells.shown(source)).toBe("[ [ '1' ] ]");
  });

  it("leave out what is only a type", async () => {
    const source =
      'import { type Fault, StepError, type SetAsideCount } from "banquette";\n' +
      'import { Accounting } from "banquette";';
    await cells.run(source);
    const fault = 'const fault: Fault = { code: "c", path: "p", expected: "e", received: "r" };';
    expect(await cells.shown(fault, "new StepError('step', [fault]).message")).toBe(
      "'step: p must be e, got r'",
    );
  });

  it("read JSON", async () => {
    const source = 'import about from "./package.json";\nabout.name';
    expect(await cells.shown(source)).toBe("'banquette'");
    const attribute = 'import about from "./package.json" with { type: "json" };\nabout.name';
    expect(await cells.shown(attribute)).toBe("'banquette'");
  });

  it("say which package is missing, before anything runs", async () => {
    const error = errorOf(
      await cells.run('console.log("ran");\nimport "./nowhere.js"; import x from "nowhere"'),
    );
    expect(error.ename).toBe("TypeCheckError");
    expect(error.evalue).toContain("Cannot find module 'nowhere'");
  });

  it("refuse a name that the module does not export", async () => {
    const source = 'const missing: string = "sepp";\nimport { sepp } from "node:path"';
    const error = errorOf(await cells.run(source));
    expect(error.evalue).toContain("sepp");
  });

  it("resolve to the same library that the kernel belongs to", async () => {
    const folder = 'import { StepError } from "banquette";\n';
    expect(await cells.shown(`${folder}import.meta.url.startsWith("file:")`)).toBe("true");
  });
});

describe("imports in a notebook outside the package", () => {
  it('find "banquette" all the same, with its types', async () => {
    await withFolder(async (folder) => {
      const outside = startCells(folder);
      const source = 'import { StepError } from "banquette";\nnew StepError("s", []).step';
      expect(await outside.shown(source)).toBe("'s'");
      const wrong = await outside.run("const step: number = new StepError('s', []).step");
      expect(errorOf(wrong).evalue).toBe("Type 'string' is not assignable to type 'number'.");
      outside.stop();
    });
  });

  it("prefer what is installed in the notebook's folder, by its exports", async () => {
    await withFolder(async (folder) => {
      // Whatever package may stand above the temporary folder ends here.
      await writeFile(join(folder, "package.json"), "{}");
      await install(folder, "banquette", {
        "package.json":
          '{"name":"banquette","type":"module","exports":{".":{"types":"./t.d.ts","import":"./in.js"}}}',
        "t.d.ts": "export declare const here: string;",
        "in.js": 'export const here = "here";',
      });
      await install(folder, "old-style", {
        "package.json": '{"name":"old-style","main":"m.js"}',
        "m.js":
          'Object.defineProperty(exports, "__esModule", { value: true });' +
          'exports.default = "the default"; exports.named = 2;',
      });
      const outside = startCells(folder);
      expect(await outside.shown('import { here } from "banquette";\nhere')).toBe("'here'");
      // No type declarations: any, and the default as the ES source meant it.
      const old = 'import old, { named } from "old-style";\n[old, named]';
      expect(await outside.shown(old)).toBe("[ 'the default', 2 ]");
      outside.stop();
    });
  });

  it("work through a linked package", async () => {
    await withFolder(async (folder) => {
      await mkdir(join(folder, "node_modules"));
      await symlink(
        join(import.meta.dirname, "../../../.."),
        join(folder, "node_modules/banquette"),
      );
      const outside = startCells(folder);
      const source = 'import { StepError } from "banquette";\nStepError.name';
      expect(await outside.shown(source)).toBe("'StepError'");
      outside.stop();
    });
  });
});

async function install(
  folder: string,
  name: string,
  files: Readonly<Record<string, string>>,
): Promise<void> {
  const target = join(folder, "node_modules", name);
  await mkdir(target, { recursive: true });
  for (const [file, text] of Object.entries(files)) await writeFile(join(target, file), text);
}
