// The package as `npm pack` makes it, installed in a project of nothing else, at a path with spaces and
// letters of several scripts.
import { spawn } from "node:child_process";
import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { describeWith } from "../../support/needs.js";
import { repository } from "../support/cells.js";
import { resultOf, WireClient } from "../support/wire-client.js";
import type { Ended } from "./banquette.js";
import { writeShortSurvey } from "./support/short-appendix.js";

let scratch = "";
let project = "";

function ran(program: string, words: readonly string[], cwd = project): Promise<Ended> {
  const child = spawn(program, [...words], { cwd, stdio: ["ignore", "pipe", "pipe"] });
  let out = "";
  let err = "";
  child.stdout.on("data", (part: Buffer) => {
    out += part.toString();
  });
  child.stderr.on("data", (part: Buffer) => {
    err += part.toString();
  });
  return new Promise((resolve, reject) => {
    child.on("error", reject);
    child.on("close", (exitCode) => resolve({ exitCode, out, err }));
  });
}

async function well(program: string, words: readonly string[], cwd = project): Promise<string> {
  const { exitCode, out, err } = await ran(program, words, cwd);
  expect(exitCode, `${program} ${words.join(" ")}: ${err}`).toBe(0);
  return out;
}

const banquette = (...words: readonly string[]) => well("npx", ["--no", "banquette", ...words]);

/** Cells that the installed kernel runs, with what they show or the type error that refuses them. */
const cells: readonly (readonly [cell: string, shown: string | RegExp])[] = [
  ['import { skinDepth, toDataFrame } from "banquette";\nskinDepth(0.02, 9000) > 30', "true"],
  ["const rows = await toDataFrame([{ chainage_m: 1012, soil: 'clay' }]);\nrows.shape", "[ 1, 2 ]"],
  ["rows.shape.length_m", /'length_m' does not exist on type 'number\[\]'/],
  [
    'import { DataFrame } from "danfojs-node";\nconst again: DataFrame = rows; again.columns[1]',
    "'soil'",
  ],
  ["new DataFrame([{ a: 1 }]).shape.a", /'a' does not exist on type 'number\[\]'/],
  ['import { Matrix } from "ml-matrix";\nconst one = Matrix.eye(2); one.trace()', "2"],
  ["one.spur()", /'spur' does not exist on type 'Matrix'/],
  ["skinDepth('deep', 1)", /'string' is not assignable to parameter of type 'number'/],
];

describeWith("npm's packages", "the packed package, installed elsewhere", () => {
  beforeAll(async () => {
    scratch = await mkdtemp(join(tmpdir(), "wend-"));
    project = join(scratch, "Überflutung 堤 a b");
    await mkdir(project);
    await writeFile(join(project, "package.json"), '{ "private": true }\n');
    await well("npm", ["run", "prepack"], repository);
    await well("npm", ["pack", "--ignore-scripts", "--pack-destination", scratch], repository);
    const [packed = ""] = (await readdir(scratch)).filter((name) => name.endsWith(".tgz"));
    const quick = ["--prefer-offline", "--no-audit", "--no-fund"];
    await well("npm", ["install", ...quick, join(scratch, packed)]);
    await writeShortSurvey(project);
  }, 600_000);
  afterAll(() => rm(scratch, { recursive: true, force: true }));

  it("has every package that it asks for, so that npm fetches nothing at the next command", async () => {
    expect(await well("npm", ["ls", "--all", "--omit=dev"])).toContain("banquette@");
    expect(await well("npm", ["install", "--offline", "--no-audit", "--no-fund"])).toContain(
      "up to date",
    );
  });

  it("checks a survey, in text and in JSON", async () => {
    expect(await banquette("check", "bank")).toContain("Next: banquette appendix bank\n");
    expect(JSON.parse(await banquette("check", "bank", "--json")).ok).toBe(true);
  });

  it("makes an appendix, and its packaged notebooks start a survey", async () => {
    const out = await banquette("appendix", "bank", "--notebook", "short.ipynb", "--out", "an out");
    expect(out).toContain("Written to an out: ");
    const page = await readFile(join(project, "an out", "appendix.html"), "utf8");
    expect(page).toContain("A short appendix");
    expect(page).not.toContain("Überflutung");
    await banquette("new", "Bank ñ");
    expect(await readdir(join(project, "Bank ñ"))).toContain("interpretation.ipynb");
  });

  it("is a kernel whose cells import it, and what comes with it, with their types", async () => {
    await banquette("kernel", "install", "--prefix", "préfixe 1");
    const spec = join(project, "préfixe 1", "share/jupyter/kernels/banquette/kernel.json");
    const { argv } = JSON.parse(await readFile(spec, "utf8"));
    const client = await WireClient.launch({ argv, env: { NODE_OPTIONS: "" }, folder: project });
    try {
      for (const [cell, shown] of cells) {
        const ran = await client.execute(cell);
        if (typeof shown === "string") expect(resultOf(ran), cell).toBe(shown);
        else expect(ran.reply.content, cell).toMatchObject({ evalue: shown });
      }
    } finally {
      await client.stop();
    }
  });
});

it("a copy that was not built says what to do", async () => {
  const folder = await mkdtemp(join(tmpdir(), "wend copy "));
  try {
    const start = join(folder, "kernels/command/start.js");
    await mkdir(join(folder, "kernels/command"), { recursive: true });
    await writeFile(join(folder, "package.json"), '{ "type": "module" }');
    await writeFile(start, await readFile(join(repository, "kernels/command/start.js")));
    const { exitCode, out, err } = await ran(process.execPath, [start, "check", "."], folder);
    expect({ exitCode, out }).toEqual({ exitCode: 2, out: "" });
    expect(err).toMatch(/^banquette: is not built; run "npm ci" in .*wend copy .* first\n$/);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
});
