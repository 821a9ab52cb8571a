// The demo's appendix opened in a real browser, offline, and its notebook read by Python's nbformat.
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { demoFolder } from "../chain/demo.js";
import { describeWith } from "../support/needs.js";
import { banquette } from "./banquette.js";

const folder = mkdtempSync(join(tmpdir(), "banquette-page-"));
const out = join(folder, "out");

beforeAll(async () => {
  const ran = await banquette("appendix", demoFolder, "--out", out);
  expect(ran.status, ran.stderr).toBe(0);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Opens a page without a network and gives what it became and what its console said. */
function opened(file: string) {
  const args = [
    ..."--headless --no-sandbox --disable-gpu --disable-quic --no-first-run".split(" "),
    ..."--disable-background-networking --disable-component-update --disable-sync".split(" "),
    `--user-data-dir=${mkdtempSync(join(folder, "chromium-"))}`,
    ..."--enable-logging=stderr --v=0 --virtual-time-budget=20000 --dump-dom".split(" "),
    `file://${file}`,
  ];
  const { stdout, stderr } = spawnSync("chromium", args, {
    encoding: "utf8",
    maxBuffer: 2e8,
    timeout: 400_000,
  });
  return { dom: stdout, console: stderr.split("\n").filter((line) => line.includes("CONSOLE")) };
}

describeWith("chromium", "appendix.html in a browser", () => {
  it("opens without a complaint and shows every figure it lists", () => {
    const { dom, console } = opened(join(out, "appendix.html"));
    expect(console).toEqual([]);
    const listed = dom.match(/href="#figure-\d+"/g) ?? [];
    expect(new Set(listed).size).toBe(48);
    for (const href of listed) expect(dom).toContain(`id="${href.slice(7, -1)}"`);
  });

  it("draws every figure again, alive, when the pointer comes to it", () => {
    const page = readFileSync(join(out, "appendix.html"), "utf8");
    const touch = `<script>document.querySelectorAll("figure[data-spec]").forEach(function (one) {
      one.dispatchEvent(new PointerEvent("pointerenter"));
    });</script></body>`;
    const touched = join(folder, "touched.html");
    writeFileSync(
      touched,
      page.replace(/<\/body>(?![\s\S]*<\/body>)/, () => touch),
    );
    const { dom, console } = opened(touched);
    expect(console).toEqual([]);
    const figures = dom.match(/<figure[^>]*data-spec=[^>]*>/g) ?? [];
    expect(figures).toHaveLength(48);
    for (const figure of figures) expect(figure).toMatch(/class="[^"]*\bready\b/);
  });

  it("asks for nothing from outside", () => {
    const page = readFileSync(join(out, "appendix.html"), "utf8");
    expect(page).not.toMatch(/<(?:script|img|iframe|link)[^>]+(?:src|href)="(?!data:)/i);
    expect(page).not.toMatch(/url\(\s*["']?https?:/i);
  });
});

describeWith("nbformat", "appendix.ipynb for Python", () => {
  it("is valid in the format's own reader", () => {
    const script =
      "import nbformat, sys; n = nbformat.read(sys.argv[1], as_version=nbformat.NO_CONVERT); " +
      "nbformat.validate(n); print(n.nbformat, n.nbformat_minor)";
    const ran = spawnSync("python3", ["-c", script, join(out, "appendix.ipynb")], {
      encoding: "utf8",
    });
    expect(ran.stderr).not.toMatch(/Error|Warning/);
    expect(ran.stdout.trim()).toBe("4 5");
  });
});
