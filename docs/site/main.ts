// Makes the documentation as a site: node dist/docs/site/main.js [FOLDER]
import { resolve } from "node:path";
import { buildSite } from "./build-site.js";

const out = resolve(process.argv[2] ?? "docs-out");
await buildSite(out);
process.stdout.write(`Written to ${out}: open index.html\n`);
