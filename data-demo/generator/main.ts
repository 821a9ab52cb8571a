import { mkdirSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { demoFiles } from "./survey-files.js";

/** Writes the demo survey and its truth: `main.js [folder]`, by default below data-demo. */

const folder = process.argv[2] ?? "data-demo";
for (const [path, text] of demoFiles()) {
  const file = join(folder, path);
  mkdirSync(dirname(file), { recursive: true });
  writeFileSync(file, text);
}
