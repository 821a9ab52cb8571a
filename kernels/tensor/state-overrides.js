// Before packing: danfojs-node's own manifest names the spreadsheet package that it is packed with.
// With the address outside the registry that it names otherwise, npm would fetch that package at the
// next command in the project where the packed one is installed.
import { readFileSync, renameSync, writeFileSync } from "node:fs";

const file = new URL("../../node_modules/danfojs-node/package.json", import.meta.url);
const own = JSON.parse(readFileSync(new URL("../../package.json", import.meta.url), "utf8"));
const manifest = JSON.parse(readFileSync(file, "utf8"));
manifest.dependencies.xlsx = own.overrides["danfojs-node"].xlsx;
const whole = new URL("package.json.unfinished", file);
writeFileSync(whole, `${JSON.stringify(manifest, null, 2)}\n`);
renameSync(whole, file);
