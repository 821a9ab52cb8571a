import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { withFolder } from "../../support/cells.js";
import { type RemoteSession, startSession } from "../../support/session.js";

interface Place {
  readonly session: RemoteSession;
  /** Writes a file, named from the notebook's folder. */
  write(name: string, text: string): Promise<void>;
  text(...sources: readonly string[]): Promise<unknown>;
}

async function inNotebook(use: (place: Place) => Promise<void>): Promise<void> {
  await withFolder(async (root) => {
    const folder = join(root, "notebook");
    await mkdir(folder);
    const session = startSession({}, folder);
    const write = (name: string, text: string) => writeFile(join(folder, name), text);
    const text = async (...sources: readonly string[]) => {
      const outputs = await session.run(...sources);
      const last = outputs.at(-1);
      if (last?.output_type === "error") return last.traceback.join("\n");
      return last !== undefined && "data" in last ? last.data["text/plain"] : last;
    };
    try {
      await use({ session, write, text });
    } finally {
      session.stop();
    }
  });
}

describe("TypeScript files", () => {
  it("are imported from beside and above the notebook, with their types and imports", async () => {
    await inNotebook(async ({ write, text }) => {
      await write(
        "../shared.ts",
        "export interface Bank { length_m: number }\nexport const k = 3;",
      );
      await write(
        "helper.ts",
        'import { k, type Bank } from "../shared.ts";\nimport { join } from "node:path";\n' +
          'import about from "./about.json";\n' +
          "export default function area(bank: Bank): number { return k * bank.length_m }\n" +
          "export let calls = 0;\nexport const call = () => { calls += 1; return calls };\n" +
          "export const late = async () => (await import('./late.js')).late;\n" +
          "export const path = join('a', 'b'), where = import.meta.url, bank = about.bank;",
      );
      await write("late.ts", "export const late: string = await Promise.resolve('late');");
      await write("about.json", '{ "bank": "Sedgeholm" }');
      const source =
        'import area, { call, late, bank } from "./helper.ts";\nimport * as all from "./helper";';
      expect(await text(source, "area({ length_m: 2 })")).toBe("6");
      expect(await text("area({ length: 2 })")).toContain("TypeCheckError");
      expect(await text("call(); call(); all.calls")).toBe("2");
      expect(await text("await late()")).toBe("'late'");
      expect(await text("all.where.endsWith('/notebook/helper.ts') && bank")).toBe("'Sedgeholm'");
      expect(await text('import { k } from "../shared.js"; k')).toBe("3");
      expect(await text('(await import("../shared.ts")).k')).toBe("3");
    });
  });

  it("are loaded again when they, or what they import, have changed, and that is said", async () => {
    await inNotebook(async ({ session, write, text }) => {
      await write("deep.ts", "export const step_m = 1;");
      await write("top.ts", 'export { step_m } from "./deep.ts";\nexport const made = {};');
      const source = 'import { step_m, made } from "./top.ts";';
      expect(await text(source, "let first = made; let old = step_m; step_m")).toBe("1");
      expect(await text(source, "made === first")).toBe("true");
      await write("deep.ts", "export const step_m = 'two';");
      const outputs = await session.run(source);
      expect(outputs).toMatchObject([
        { data: { "text/plain": expect.stringMatching(/^"deep.ts" has changed and was loaded/) } },
      ]);
      // The type is new, too, and what was made from the old one is told.
      expect(await text("step_m.length")).toBe("3");
      expect(await session.run("old")).toMatchObject([
        { data: { "text/plain": expect.stringContaining("`step_m` has been remade") } },
        { data: { "text/plain": "1" } },
      ]);
    });
  });

  it("are found once they are there, and read anew when they are JSON", async () => {
    await inNotebook(async ({ write, text }) => {
      expect(await text('import { n } from "./new.ts"; n')).toContain("TypeCheckError");
      await write("new.ts", "export const n = 1;");
      expect(await text('import { n } from "./new.ts"; n')).toBe("1");
      await write("data.json", '{ "level_m": 1 }');
      expect(await text('import data from "./data.json"; data.level_m')).toBe("1");
      await write("data.json", '{ "level_m": 2.5, "more": "x" }');
      expect(await text('import data from "./data.json"; data.level_m + data.more')).toBe("'2.5x'");
    });
  });

  it("stop a cell by their type errors, and show errors in their own lines", async () => {
    await inNotebook(async ({ write, text }) => {
      await write("../wrong.ts", "export const a: number = 1;\nexport const b: number = 'b';");
      expect(await text('import { b } from "../wrong.ts"; b')).toContain(
        "../wrong.ts:2: Type 'string' is not assignable to type 'number'. (TS2322)",
      );
      await write(
        "throws.ts",
        "interface Bank { m: number }\n\nexport function fails(bank: Bank): number {\n  throw new RangeError('too wide');\n}",
      );
      const trace = await text('import { fails } from "./throws.ts";\nfails({ m: 1 })');
      expect(trace).toContain("> 4 |   throw new RangeError('too wide');");
      expect(trace).toMatch(/at fails \(throws\.ts:4\)\n {4}at cell 2, line 2/);
    });
  });

  it("may import each other in a circle", async () => {
    await inNotebook(async ({ write, text }) => {
      await write("a.ts", 'import { b } from "./b.ts";\nexport const a = () => 1 + b();');
      await write("b.ts", 'import { a } from "./a.ts";\nexport const b = () => 1; export { a };');
      expect(await text('import { a } from "./a.ts"; a()')).toBe("2");
      expect(await text("(await Promise.all([import('./a.ts'), import('./b.ts')])).length")).toBe(
        "2",
      );
    });
  });
});
