// The Python environments with the public Jupyter kernel test suite, JupyterLab and Snakemake: see
// .ci/python.sh.
import { existsSync } from "node:fs";
import { homedir } from "node:os";
import { join } from "node:path";

const folder = process.env.BANQUETTE_PYTHON_FOLDER ?? join(homedir(), ".cache", "banquette-ci");

/**
 * `old` has jupyter_client 7, `current` the newest one, `lab` JupyterLab with its widgets,
 * the classic notebook, nbconvert and papermill.
 */
export const pythons = {
  old: process.env.BANQUETTE_PYTHON_OLD ?? join(folder, "old", "bin", "python"),
  current: process.env.BANQUETTE_PYTHON_NEW ?? join(folder, "new", "bin", "python"),
  lab: process.env.BANQUETTE_PYTHON_LAB ?? join(folder, "lab", "bin", "python"),
} as const;

const ownSnakemake = join(folder, "snakemake", "bin", "snakemake");

/** The engine of inventories: the one named, the one of .ci/python.sh, else the one on the PATH. */
export const snakemake =
  process.env.BANQUETTE_SNAKEMAKE ?? (existsSync(ownSnakemake) ? ownSnakemake : "snakemake");

/** The Python that has Snakemake's executors beside it. */
export const snakemakePython = join(folder, "snakemake", "bin", "python");
