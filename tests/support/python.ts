// The Python environments in which the public Jupyter kernel test suite runs: see .ci/python.sh.
import { homedir } from "node:os";
import { join } from "node:path";

const folder = process.env.BANQUETTE_PYTHON_FOLDER ?? join(homedir(), ".cache", "banquette-ci");

/** `old` has jupyter_client 7, `current` the newest one. */
export const pythons = {
  old: process.env.BANQUETTE_PYTHON_OLD ?? join(folder, "old", "bin", "python"),
  current: process.env.BANQUETTE_PYTHON_NEW ?? join(folder, "new", "bin", "python"),
} as const;
