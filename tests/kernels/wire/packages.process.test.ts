import { existsSync } from "node:fs";
import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { installedVersion } from "../../../dist/kernels/session/packages/installed-package.js";
import type { Content, Message } from "../../../kernels/wire/messages.js";
import { processesWith } from "../support/processes.js";
import { type MadePackage, type Registry, startRegistry } from "../support/registry.js";
import { resultOf, WireClient } from "../support/wire-client.js";

const esm = { type: "module", exports: { ".": { types: "./index.d.ts", default: "./index.js" } } };
const tides = (version: string): MadePackage => ({
  name: "wend-tides",
  version,
  manifest: { ...esm, scripts: { postinstall: "touch was-run" } },
  files: {
    "index.js": `export const high_m = (day) => day + 0.5; export const release = "${version}";`,
    "index.d.ts":
      "export declare const high_m: (day: number) => number; export declare const release: string;",
  },
});
const plain: MadePackage = {
  name: "@wend/levels",
  version: "0.3.1",
  files: { "index.js": "exports.level_m = 4;" },
};
const types: MadePackage = {
  name: "@types/wend__levels",
  version: "0.3.0",
  files: { "index.d.ts": "export declare const level_m: number;" },
};

let registry: Registry;
let client: WireClient;
let folder = "";
beforeAll(async () => {
  registry = await startRegistry([tides("1.1.0"), tides("1.2.0"), plain, types]);
  folder = await mkdtemp(join(tmpdir(), "wend-packages-"));
  client = await WireClient.launch({ folder, env: { ...registry.env, WEND_PACKAGES: folder } });
});
afterAll(async () => {
  await client.stop();
  await registry.remove();
  await rm(folder, { recursive: true, force: true });
});

const textsOf = (outputs: readonly Message[]) =>
  outputs
    .filter(({ header }) => /display_data$/.test(header.msg_type))
    .map(({ content }) => String((content.data as Content)["text/plain"]));
const kept = async (file: string) => JSON.parse(await readFile(join(folder, file), "utf8"));
const errorOf = async (code: string) => {
  const { reply } = await client.execute(code);
  return String(reply.content.evalue);
};

describe("a package from a cell", () => {
  it("is installed, imported with its types, and kept in its exact version", async () => {
    const ran = await client.execute('import { high_m } from "wend-tides"; // install\nhigh_m(2)');
    expect(resultOf(ran)).toBe("2.5");
    const [first, ...updates] = textsOf(ran.outputs);
    expect(first).toBe("Installing wend-tides … 0 answers of the registry, 0 s");
    expect(updates.at(-1)).toBe(
      "Package wend-tides 1.2.0, in package.json and package-lock.json beside the notebook",
    );
    const last = ran.outputs.findLast(({ header }) => header.msg_type === "update_display_data");
    expect(last?.content.metadata).toEqual({ banquette: { packages: { "wend-tides": "1.2.0" } } });
    expect(await kept("package.json")).toEqual({ dependencies: { "wend-tides": "1.2.0" } });
    const { packages } = await kept("package-lock.json");
    expect(packages["node_modules/wend-tides"].integrity).toMatch(/^sha512-/);
    expect(await errorOf('high_m("monday")')).toMatch(/not assignable to parameter/);
  });

  it("runs no script of the package", () => {
    expect(existsSync(join(folder, "node_modules/wend-tides/index.js"))).toBe(true);
    expect(existsSync(join(folder, "node_modules/wend-tides/was-run"))).toBe(false);
  });

  it("is not asked for again where it is there", async () => {
    const before = registry.asked.length;
    const ran = await client.execute(
      'import {\n  high_m as high,\n} from "wend-tides"; // install 1.2.0\nhigh(1)',
    );
    expect(resultOf(ran)).toBe("1.5");
    expect(textsOf(ran.outputs)).toEqual([
      "Package wend-tides 1.2.0, in package.json and package-lock.json beside the notebook",
    ]);
    expect(registry.asked.length).toBe(before);
  });

  it("brings its types from where the registry has them", async () => {
    const ran = await client.execute(
      'import { level_m } from "@wend/levels" // install 0.3.1\nlevel_m.toFixed(1)',
    );
    expect(resultOf(ran)).toBe("'4.0'");
    expect(await errorOf("level_m.length")).toMatch(/does not exist on type 'number'/);
  });

  it("in another version says what a restart is needed for", async () => {
    const { outputs } = await client.execute('import "wend-tides"; // install 1.1.0');
    expect(textsOf(outputs).at(-1)).toMatch(/1\.2\.0 keep it until the kernel is restarted$/);
    expect((await kept("package.json")).dependencies["wend-tides"]).toBe("1.1.0");
    expect(installedVersion(folder, "wend-tides")).toBe("1.1.0");
  });
});

describe("a package that cannot be had", () => {
  it.each([
    ["wend-tides", "9.9.9", /^wend-tides@9.9.9: the registry has no such version of it; nothing/],
    ["wend-tides", "^1.0.0", /^wend-tides: .* must be an exact version such as 2.1.0.*"\^1.0.0"$/],
    ["./levels.ts", "", /^"\.\/levels\.ts" is no name of a package/],
    ["node:fs", "", /^"node:fs" is part of Node/],
  ])("%s %s", async (name, version, words) => {
    expect(await errorOf(`import "${name}"; // install ${version}\nlet ranOn = 1;`)).toMatch(words);
    expect(await errorOf("ranOn")).toBe("Cannot find name 'ranOn'.");
  });

  it("for want of a network says so, and is there once there is one", async () => {
    await registry.close();
    await rm(join(folder, "node_modules"), { recursive: true });
    const cell = 'import "wend-tides"; // install 1.1.0';
    const words =
      "the registry cannot be reached (ECONNREFUSED), run the cell again with a network";
    try {
      // What npm has in its cache needs no network.
      expect(await errorOf('import "wend-later"; // install')).toBe(
        `wend-later: ${words}; nothing of the cell ran`,
      );
    } finally {
      await registry.open();
    }
    expect((await client.execute(cell)).reply.content.status).toBe("ok");
  });

  it("as it is interrupted leaves nothing behind", async () => {
    registry.silent.add("wend-slow");
    const header = await client.start('import "wend-slow"; // install\n"never"');
    await client.until(() => registry.asked.includes("wend-slow"));
    const before = performance.now();
    await client.onControl("interrupt_request");
    const { reply, outputs } = await client.finished(header);
    expect(performance.now() - before).toBeLessThan(2000);
    expect(reply.content.ename).toBe("Interrupted");
    expect(textsOf(outputs).at(-1)).toBe("Package wend-slow: not installed");
    expect(await errorOf('import "wend-nowhere"; // install')).toBe(
      "wend-nowhere: the registry has no package of this name; nothing of the cell ran",
    );
    expect(processesWith(`WEND_PACKAGES=${folder}`)).toEqual([client.process.pid]);
    expect((await kept("package.json")).dependencies).not.toHaveProperty("wend-slow");
  });

  it("and that nobody asked for is told how to be asked for", async () => {
    const { reply } = await client.execute('import { depth_m } from "wend-depths";');
    expect(String(reply.content.traceback)).toContain("; `// install` behind the import has");
    const file = await client.execute('import { depth_m } from "./depths.ts";');
    expect(String(file.reply.content.traceback)).not.toContain("// install");
  });

  it("is an ordinary remark where there are more words", async () => {
    const ran = await client.execute(
      'import { sep } from "node:path"; // install the tide tables first\nsep.length',
    );
    expect(resultOf(ran)).toBe("1");
  });
});
