// Tests that need a program which is not a package of this project: a browser, Python's nbformat
// and jupyter_client, PROJ's cs2cs and geod, GDAL's ogrinfo, shells, Snakemake, Slurm, or the place
// where npm finds packages.
// Where it is missing, the tests are left out and `npm test` says so at its end; with CI set, a
// missing program fails them.
import { spawnSync } from "node:child_process";
import { describe, expect, it } from "vitest";
import { pythons, snakemake, snakemakePython } from "./python.js";

const probes = {
  chromium: ["chromium", ["--version"]],
  cs2cs: ["cs2cs", ["+proj=longlat", "+to", "+proj=longlat", "/dev/null"]],
  geod: ["geod", ["-le"]],
  fish: ["fish", ["--version"]],
  jupyter_client: ["python3", ["-c", "import jupyter_client"]],
  "kernel suite under jupyter_client 7": [pythons.old, ["-c", "import jupyter_kernel_test"]],
  "kernel suite": [pythons.current, ["-c", "import jupyter_kernel_test"]],
  jupyterlab: [pythons.lab, ["-c", "import jupyterlab_widgets, nbclassic"]],
  "nbconvert and papermill": [pythons.lab, ["-c", "import nbconvert, papermill"]],
  nbformat: ["python3", ["-c", "import nbformat"]],
  "npm's packages": ["npm", ["ping", "--fetch-retries=0", "--fetch-timeout=5000"]],
  ogrinfo: ["ogrinfo", ["--version"]],
  pdftoppm: ["pdftoppm", ["-v"]],
  "ssh-keygen": ["sh", ["-c", "command -v ssh-keygen"]],
  zsh: ["zsh", ["--version"]],
  snakemake: [snakemake, ["--version"]],
  slurm: [
    "sh",
    [
      "-c",
      'command -v slurmctld slurmd munged && exec "$0" -c "import snakemake_executor_plugin_slurm"',
      snakemakePython,
    ],
  ],
} as const;
export type Tool = keyof typeof probes;

export function has(tool: Tool): boolean {
  const [program, args] = probes[tool];
  return spawnSync(program, [...args], { stdio: "ignore" }).status === 0;
}

/** `describe` for tests that need a tool. */
export function describeWith(tool: Tool, name: string, tests: () => void): void {
  if (has(tool)) {
    describe(name, tests);
    return;
  }
  describe(`${name} [left out: ${tool} is not installed]`, () => {
    it.runIf(process.env.CI !== undefined)(`has ${tool}, which CI must have`, () => {
      expect.unreachable(`${tool} is not installed`);
    });
  });
}
