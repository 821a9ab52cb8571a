// Run by `node --snapshot-blob BLOB`: checks a cell that uses the library and Node, and prints as JSON
// which files of the compiler and which declaration files were read from disk for it.
import { createRequire } from "node:module";

const fs = createRequire(import.meta.url)("node:fs");
const { readFileSync } = fs;
const read = [];
fs.readFileSync = (path, ...rest) => {
  if (/\.d\.[cm]?ts$|\/lib\/typescript\.js$/.test(String(path))) read.push(String(path));
  return readFileSync(path, ...rest);
};

const built = new URL("../../../dist/kernels/session/types/", import.meta.url);
const { createTypeServices } = await import(new URL("type-services.js", built));
const services = createTypeServices(process.cwd());
const source = [
  'import { openSurvey } from "banquette";',
  'import { statSync } from "node:fs";',
  "const open: typeof openSurvey = openSurvey;",
  "const size: number = statSync('.').size + new Map([[1, 2]]).size;",
].join("\n");
const { faults } = services.check("", { source, execution: 1 });
process.stdout.write(JSON.stringify({ faults, read }));
services.close();
