// The demo's appendix opened in a real browser, offline, and its notebook read by Python's nbformat.
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { describeWith } from "../support/needs.js";
import { demoAppendix } from "./support/demo-appendix.js";

const folder = mkdtempSync(join(tmpdir(), "banquette-page-"));
let out: string;

beforeAll(async () => {
  const made = await demoAppendix();
  expect(made.ran.status, made.ran.stderr).toBe(0);
  out = made.out;
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Opens a page without a network and gives what it became and what its console said. */
function opened(file: string) {
  const args = [
    ..."--headless --no-sandbox --disable-gpu --disable-quic --no-first-run".split(" "),
    ..."--disable-background-networking --disable-component-update --disable-sync".split(" "),
    `--user-data-dir=${mkdtempSync(join(folder, "chromium-"))}`,
    "--window-size=1300,16000",
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

/** The page with a script of the test's own at its end. */
function touched(script: string) {
  const page = readFileSync(join(out, "appendix.html"), "utf8");
  const file = join(folder, "touched.html");
  const end = /<\/body>(?![\s\S]*<\/body>)/;
  writeFileSync(
    file,
    page.replace(end, () => `<script>${script}</script></body>`),
  );
  return opened(file);
}

/** What such a script hands to `tell`. */
function told(script: string): unknown {
  const tell = `function tell(what) { document.title = "TOLD" + btoa(unescape(encodeURIComponent(JSON.stringify(what)))); }`;
  const { dom } = touched(`${tell}\n${script}`);
  const [, data = ""] = /<title>TOLD([A-Za-z0-9+/=]*)<\/title>/.exec(dom) ?? [];
  return JSON.parse(Buffer.from(data, "base64").toString("utf8"));
}

describeWith("chromium", "appendix.html in a browser", () => {
  it("opens without a complaint and shows every figure it lists", () => {
    const { dom, console } = opened(join(out, "appendix.html"));
    expect(console).toEqual([]);
    const listed = dom.match(/href="#figure-\d+"/g) ?? [];
    expect(new Set(listed).size).toBe(50);
    for (const href of listed) expect(dom).toContain(`id="${href.slice(7, -1)}"`);
  });

  it("draws every figure again, alive, when the pointer comes to it", () => {
    const { dom, console } = touched(`document.querySelectorAll("figure[data-spec]").forEach(
      function (one) { one.dispatchEvent(new PointerEvent("pointerenter")); });`);
    expect(console).toEqual([]);
    const figures = dom.match(/<figure[^>]*data-spec=[^>]*>/g) ?? [];
    expect(figures).toHaveLength(50);
    for (const figure of figures) expect(figure).toMatch(/class="[^"]*\bready\b/);
  });

  it("has no fault of accessibility that is serious", () => {
    const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
    const faults = told(`${axe}
      axe.run(document, { resultTypes: ["violations"] }).then(function (found) {
        tell(found.violations.map(function (one) {
          return { id: one.id, impact: one.impact, at: one.nodes[0].html.slice(0, 200) };
        }));
      });`) as readonly { readonly impact: string }[];
    expect(faults.filter(({ impact }) => impact === "serious" || impact === "critical")).toEqual(
      [],
    );
  });

  it("is as wide as its window, and a table that is wider scrolls beside its first column", () => {
    const { page, tables } = told(`
      document.querySelectorAll("details").forEach(function (one) { one.open = true; });
      var wide = Array.prototype.filter.call(document.querySelectorAll(".wide"), function (one) {
        return one.scrollWidth > one.clientWidth;
      });
      tell({
        page: document.documentElement.scrollWidth - window.innerWidth,
        tables: wide.map(function (one) {
          one.scrollLeft = 100;
          var first = one.querySelector("td, th");
          return { scrolls: one.scrollLeft > 0, first_px:
            first.getBoundingClientRect().left - one.getBoundingClientRect().left };
        })
      });`) as { page: number; tables: readonly unknown[] };
    expect(page).toBeLessThanOrEqual(0);
    expect(tables.length).toBeGreaterThan(0);
    for (const table of tables) expect(table).toEqual({ scrolls: true, first_px: 0 });
  });

  it("shows the place pointed at in every figure along the bank that is in view", () => {
    const places = told(`
      var drawing = document.querySelector("#figure-1 .drawing svg").getBoundingClientRect();
      document.querySelector("#figure-1").dispatchEvent(new PointerEvent("pointermove",
        { clientX: drawing.left + drawing.width / 2, clientY: drawing.top + 50 }));
      tell(Array.prototype.filter.call(document.querySelectorAll(".place"), function (one) {
        return one.style.display === "block";
      }).length);`);
    expect(places).toBeGreaterThan(3);
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
