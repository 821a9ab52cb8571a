import { mkdir, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { expect, it } from "vitest";
import { withFolder } from "../../support/cells.js";
import { resultOf, WireClient } from "../../support/wire-client.js";

const files: Readonly<Record<string, string>> = {
  "outer/package.json": `{ "name": "outer", "version": "1.0.0", "type": "module",
    "exports": { ".": { "types": "./index.d.ts", "default": "./index.js" } } }`,
  "outer/index.d.ts":
    'import type { Level } from "inner";\nexport declare function level(): Promise<Level>;',
  "outer/index.js": "export const level = async () => ({ at_m: 3 });",
  "outer/node_modules/inner/package.json":
    '{ "name": "inner", "version": "1.0.0", "types": "index.d.ts" }',
  "outer/node_modules/inner/index.d.ts": "export interface Level { at_m: number }",
};

it("a type of a package within another one's folder lasts over cells, and its neighbours keep theirs", async () => {
  await withFolder(async (folder) => {
    for (const [name, text] of Object.entries(files)) {
      const path = join(folder, "node_modules", name);
      await mkdir(dirname(path), { recursive: true });
      await writeFile(path, text);
    }
    const client = await WireClient.launch({ folder });
    try {
      const fault = async (cell: string) => (await client.execute(cell)).reply.content.evalue;
      await client.execute(
        'import { level } from "outer";\nconst top = await level(), beside = 2;',
      );
      expect(await fault("top.at_km")).toMatch(/'at_km' does not exist on type 'Level'/);
      expect(await fault("beside.at_m")).toMatch(/'at_m' does not exist on type '2'/);
      expect(resultOf(await client.execute("top.at_m + beside"))).toBe("5");
      // What cannot be written down is `any`; what stands beside it in its cell is not.
      await client.execute("const Peg = class { #at = 1; at = () => this.#at }; const count = 3;");
      expect(await fault("count.at_m")).toMatch(/'at_m' does not exist on type '3'/);
      expect(resultOf(await client.execute("new Peg().at() + count"))).toBe("4");
      // Tables and matrices come with the kernel, wherever the notebook stands.
      const cell = 'import { Matrix } from "ml-matrix";\nMatrix.eye(2).trace()';
      expect(resultOf(await client.execute(cell))).toBe("2");
      expect(await fault('import { x } from "no-such-package";')).toContain("no-such-package");
    } finally {
      await client.stop();
    }
  });
});
