// The public programs that execute a notebook without a front end, with the kernel as it is installed.
import { execFile } from "node:child_process";
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { promisify } from "node:util";
import { afterAll, beforeAll, expect, it } from "vitest";
import { notebookText } from "../../../kernels/notebook/notebook-text.js";
import { parseNotebook } from "../../../kernels/notebook/read-notebook.js";
import { describeWith } from "../../support/needs.js";
import { pythons } from "../../support/python.js";
import { banquetteIn } from "../command/banquette.js";
import { code, notebook, text } from "../support/notebooks.js";

const run = promisify(execFile);
const written = notebook(
  text("title", "# Levels"),
  code("level", "const level_m: number = 2;", "parameters"),
  code("printed", "console.log('walked'); level_m + 1"),
  code("library", 'import { skinDepth } from "banquette";\nskinDepth(0.02, 9000) > 30'),
  code("drawn", "svg('<svg xmlns=\"http://www.w3.org/2000/svg\"></svg>', { alt: 'Bank' })"),
  code("remade", "let rows = [1];"),
);
const failing = notebook(
  code("before", "const depth_m = 3;"),
  code("fails", "throw new RangeError('no such depth');"),
  code("after", "console.log('never')"),
);

const programs: Readonly<Record<string, (file: string) => readonly string[]>> = {
  nbconvert: (file) => ["-m", "nbconvert", "--to", "notebook", "--inplace", "--execute", file],
  papermill: (file) => ["-m", "papermill", "--no-progress-bar", file, file],
};

async function executed(program: string, folder: string, cells: typeof written) {
  const file = join(folder, `${program}.ipynb`);
  const spec = { name: "banquette", display_name: "Banquette", language: "typescript" };
  await writeFile(file, notebookText({ ...cells, metadata: { kernelspec: spec } }));
  const env = {
    ...process.env,
    JUPYTER_PATH: join(folder, "environment/share/jupyter"),
    JUPYTER_RUNTIME_DIR: join(folder, "run"),
  };
  const words = (programs[program] as (file: string) => readonly string[])(file);
  const fault = await run(pythons.lab, [...words], { cwd: folder, env }).then(
    () => "",
    ({ stderr }: { readonly stderr: string }) => stderr,
  );
  const { cells: read } = parseNotebook(await readFile(file, "utf8"), file);
  const outputs = read.map((cell) => (cell.cell_type === "code" ? cell.outputs : []));
  return { fault, outputs };
}

describeWith("nbconvert and papermill", "a program that executes notebooks", () => {
  let folder = "";
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), "wend-"));
    await banquetteIn(folder, ["kernel", "install", "--prefix", join(folder, "environment")]);
  });
  afterAll(() => rm(folder, { recursive: true, force: true }));

  it.each(Object.keys(programs))("runs one whole, each output in its cell: %s", async (name) => {
    const { fault, outputs } = await executed(name, folder, written);
    expect(fault).toBe("");
    expect(outputs).toMatchObject([
      [],
      [],
      [{ text: "walked\n" }, { output_type: "execute_result", data: { "text/plain": "3" } }],
      [{ data: { "text/plain": "true" } }],
      [{ data: { "image/svg+xml": expect.anything() } }],
      [],
    ]);
  });

  it("stops where a cell fails, and says why in its words", async () => {
    const { fault, outputs } = await executed("papermill", folder, failing);
    expect(fault).toContain("RangeError: no such depth");
    expect(outputs.at(-1)).toEqual([]);
  });
});
