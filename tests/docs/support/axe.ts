// What axe-core finds in a page, in a real browser, without a network.
import { spawn } from "node:child_process";
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { basename, dirname, join } from "node:path";

const axeFile = createRequire(import.meta.url).resolve("axe-core/axe.min.js");

/** Violations of the page, each as "rule: element"; the page is read where it lies. */
export async function axeViolations(file: string): Promise<readonly string[]> {
  const axe = await readFile(axeFile, "utf8");
  // The generator's own script shows the page when it is ready.
  const run = `setTimeout(() => axe.run().then(({ violations }) => {
    const lines = violations.flatMap(({ id, nodes }) => nodes.map(({ html }) => id + ": " + html));
    const told = document.createElement("pre");
    told.id = "axe-told";
    told.textContent = encodeURIComponent(JSON.stringify(lines));
    document.body.append(told);
  }), 2000);`;
  const html = await readFile(file, "utf8");
  const asked = join(dirname(file), `axe-${basename(file)}`);
  const script = `<script>${axe}</script><script>addEventListener("load", () => { ${run} });</script>`;
  await writeFile(
    asked,
    html.replace("</body>", () => `${script}</body>`),
  );
  try {
    const dom = await domOf(asked);
    const told = /<pre id="axe-told">([^<]*)<\/pre>/.exec(dom)?.[1];
    if (told === undefined) throw new Error(`axe-core told nothing of ${file}`);
    return JSON.parse(decodeURIComponent(told));
  } finally {
    await rm(asked);
  }
}

async function domOf(file: string): Promise<string> {
  const profile = await mkdtemp(join(tmpdir(), "chromium-"));
  const words = [
    ..."--headless --no-sandbox --disable-gpu --no-first-run --disable-sync".split(" "),
    ..."--disable-background-networking --disable-component-update --window-size=1300,1000".split(
      " ",
    ),
    ...`--user-data-dir=${profile} --virtual-time-budget=20000 --dump-dom`.split(" "),
    `file://${file}`,
  ];
  try {
    const child = spawn("chromium", words, { stdio: ["ignore", "pipe", "ignore"] });
    const parts: Buffer[] = [];
    child.stdout.on("data", (part: Buffer) => parts.push(part));
    await new Promise((resolve, reject) => {
      child.on("error", reject);
      child.on("close", resolve);
    });
    return Buffer.concat(parts).toString("utf8");
  } finally {
    await rm(profile, { recursive: true, force: true });
  }
}
