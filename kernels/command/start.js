#!/usr/bin/env node
// What the package's command begins with: plain JavaScript, so that an older Node and a copy that
// was never built are told what to do.
import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";

const main = new URL("../../dist/kernels/command/main.js", import.meta.url);
const folder = fileURLToPath(new URL("../..", import.meta.url));
const [major = 0, minor = 0] = process.versions.node.split(".").map(Number);

function refuse(text) {
  process.stderr.write(`banquette: ${text}\n`);
  process.exitCode = 2;
}

if (major < 20 || (major === 20 && minor < 19)) {
  refuse(`needs Node 20.19 or newer, this is ${process.versions.node}`);
} else if (!existsSync(main)) {
  refuse(`is not built; run "npm ci" in ${folder} first`);
} else {
  await import(main.href).catch((error) => {
    if (error.code !== "ERR_MODULE_NOT_FOUND") throw error;
    refuse(`a package that it works with is missing; run "npm ci" in ${folder} again`);
  });
}
