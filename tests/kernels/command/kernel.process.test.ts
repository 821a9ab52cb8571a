import { spawnSync } from "node:child_process";
import { mkdir, readdir, readFile, writeFile } from "node:fs/promises";
import { isAbsolute, join } from "node:path";
import { describe, expect, it } from "vitest";
import { describeWith } from "../../support/needs.js";
import { repository, withFolder } from "../support/cells.js";
import { banquetteIn } from "./banquette.js";

const kernels = (data: string) => join(data, "kernels");
const install = (data: string, ...words: readonly string[]) =>
  banquetteIn(data, ["kernel", "install", ...words], { JUPYTER_DATA_DIR: data });
const uninstall = (data: string, ...words: readonly string[]) =>
  banquetteIn(data, ["kernel", "uninstall", ...words], { JUPYTER_DATA_DIR: data });

async function specIn(folder: string) {
  return JSON.parse(await readFile(join(folder, "kernel.json"), "utf8"));
}

// A PNG file tells its size in bytes 16 to 23 (PNG specification, 11.2.2 IHDR).
async function pngSize(file: string): Promise<readonly number[]> {
  const bytes = await readFile(file);
  return [bytes.readUInt32BE(16), bytes.readUInt32BE(20)];
}

describe("banquette kernel install", () => {
  it("writes the spec, with absolute paths, and the pictures", async () => {
    await withFolder(async (data) => {
      const { exitCode, out, err } = await install(data);
      const folder = join(kernels(data), "banquette");
      expect({ exitCode, err }).toEqual({ exitCode: 0, err: "" });
      expect(out).toContain(`installed in ${folder}\n`);
      expect(await specIn(folder)).toEqual({
        argv: [
          "/bin/sh",
          "-c",
          expect.stringContaining("exec"),
          "banquette",
          process.execPath,
          join(repository, "dist/kernels/wire/main.js"),
          join(folder, "start.blob"),
          expect.stringContaining(process.version),
          "{connection_file}",
        ],
        display_name: "TypeScript (Banquette)",
        language: "typescript",
        interrupt_mode: "message",
        metadata: { debugger: true, banquette: { version: expect.stringMatching(/^\d+\./) } },
      });
      expect(isAbsolute(process.execPath)).toBe(true);
      const pictures = ["logo-32x32.png", "logo-64x64.png", "logo-svg.svg"];
      const files = ["kernel.json", ...pictures, "start.blob"];
      expect((await readdir(folder)).sort()).toEqual(files);
      expect(await pngSize(join(folder, "logo-64x64.png"))).toEqual([64, 64]);
      expect(await pngSize(join(folder, "logo-32x32.png"))).toEqual([32, 32]);
    });
  });

  it("done twice is done once, under the names of the second time", async () => {
    await withFolder(async (data) => {
      await install(data);
      const { exitCode, out } = await install(data, "--display-name", "Bank notebook");
      expect(exitCode).toBe(0);
      expect(out).toContain('shown as "Bank notebook", installed again in');
      expect(await readdir(kernels(data))).toEqual(["banquette"]);
      const { display_name } = await specIn(join(kernels(data), "banquette"));
      expect(display_name).toBe("Bank notebook");
    });
  });

  it("serves an environment below its prefix, under another name", async () => {
    await withFolder(async (data) => {
      const env = join(data, "env");
      expect((await install(data, "--prefix", "env", "--name", "bank-ts")).exitCode).toBe(0);
      const folder = join(env, "share", "jupyter", "kernels", "bank-ts");
      expect((await specIn(folder)).language).toBe("typescript");
      const { out } = await uninstall(data, "--prefix", "env", "--name", "bank-ts");
      expect(out).toBe(`Kernel "bank-ts" removed from ${folder}\n`);
      expect(await readdir(join(folder, ".."))).toEqual([]);
    });
  });

  const others: readonly (readonly [string, string])[] = [
    ["another kernel", '{"argv":["x"],"display_name":"Other","language":"y"}'],
    ["a kernel.json that is no JSON", "{"],
    ["a kernel.json that is no object", "null"],
  ];
  for (const [what, text] of others) {
    it(`leaves ${what} under its name alone unless told to replace it`, async () => {
      await withFolder(async (data) => {
        const folder = join(kernels(data), "banquette");
        await mkdir(folder, { recursive: true });
        await writeFile(join(folder, "kernel.json"), text);
        await writeFile(join(folder, "kernel.js"), "");
        for (const act of [install, uninstall]) {
          const { exitCode, err } = await act(data);
          expect(exitCode).toBe(1);
          expect(err).toMatch(/^banquette: .*: holds a kernel of another make/);
          expect(await readFile(join(folder, "kernel.json"), "utf8")).toBe(text);
        }
        expect((await install(data, "--replace")).exitCode).toBe(0);
        expect((await specIn(folder)).language).toBe("typescript");
        expect(await readdir(folder)).not.toContain("kernel.js");
      });
    });
  }

  it("says what cannot be written", async () => {
    await withFolder(async (data) => {
      await writeFile(join(data, "kernels"), "a file");
      const { exitCode, err } = await install(data);
      expect(exitCode).toBe(1);
      expect(err).toMatch(/^banquette: .*kernels.banquette: cannot be written \(E[A-Z]+\)\n$/);
    });
  });

  const wrong: readonly (readonly [readonly string[], string])[] = [
    [["--user", "--prefix", "env"], "--user and --prefix exclude each other"],
    [["--name", "../other"], "--name must be lower-case letters"],
    [["--name", "Bank"], "--name must be lower-case letters"],
    [["--prefix", ""], "--prefix must be a folder"],
  ];
  for (const [words, message] of wrong) {
    it(`exits 2 on ${words.join(" ")}`, async () => {
      await withFolder(async (data) => {
        for (const act of [install, uninstall]) {
          const { exitCode, err } = await act(data, ...words);
          expect(exitCode).toBe(2);
          expect(err).toContain(`banquette: ${message}`);
        }
        expect(await readdir(data)).toEqual([]);
      });
    });
  }
});

describe("banquette kernel uninstall", () => {
  it("takes away what install wrote, and says so where there is nothing", async () => {
    await withFolder(async (data) => {
      await install(data);
      const folder = join(kernels(data), "banquette");
      expect((await uninstall(data)).out).toBe(`Kernel "banquette" removed from ${folder}\n`);
      expect(await readdir(kernels(data))).toEqual([]);
      const { exitCode, out } = await uninstall(data);
      expect({ exitCode, out }).toEqual({
        exitCode: 0,
        out: `No kernel "banquette" in ${folder}\n`,
      });
    });
  });
});

describeWith("jupyter_client", "Jupyter itself", () => {
  it("lists the installed kernel", async () => {
    await withFolder(async (data) => {
      await install(data);
      const { stdout } = spawnSync(
        "python3",
        ["-m", "jupyter_client.kernelspecapp", "list", "--json"],
        { env: { ...process.env, JUPYTER_DATA_DIR: data }, encoding: "utf8" },
      );
      const { kernelspecs } = JSON.parse(stdout);
      expect(kernelspecs.banquette).toMatchObject({
        resource_dir: join(kernels(data), "banquette"),
        spec: { display_name: "TypeScript (Banquette)", interrupt_mode: "message" },
      });
    });
  });
});
