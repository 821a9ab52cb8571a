// The documentation as it is made: every example runs, every link leads somewhere, axe-core finds
// nothing, and nothing is asked of a network.
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import * as library from "../../lib/index.js";
import { describeWith } from "../support/needs.js";
import { axeViolations } from "./support/axe.js";
import { brokenLinks, outsideParts, pagesIn } from "./support/links.js";

const repository = resolve(import.meta.dirname, "../..");
const folder = mkdtempSync(join(tmpdir(), "wend-docs-"));
const site = join(folder, "site");

beforeAll(() => {
  const words = [join(repository, "dist/docs/site/main.js"), site];
  const made = spawnSync(process.execPath, words, { encoding: "utf8" });
  expect(made.status, made.stderr).toBe(0);
  expect(made.stderr).not.toContain("[warning]");
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const read = (page: string) => readFileSync(join(site, page), "utf8");
const documents = () => pagesIn(site).filter((page) => page.startsWith("documents/"));

describe("the documentation", () => {
  it("has the pages that are written, and one of every public name", () => {
    expect(documents().length).toBeGreaterThanOrEqual(22);
    const pages = pagesIn(site).join("\n");
    for (const name of Object.keys(library)) expect(pages).toContain(`.${name}.html`);
  });

  it("shows below the examples what they gave", () => {
    const pages = documents().map(read);
    const pictures = pages.join("").match(/<img [^>]*src="\.\.\/media\/[^"]*\.svg"/g) ?? [];
    expect(pictures.length).toBeGreaterThanOrEqual(15);
    expect(pages.filter((page) => page.includes("{{"))).toEqual([]);
    const check = pages.find((page) => page.includes("A second campaign, and the check"));
    expect(check).toContain("No faults.");
  });

  it("has no link that leads nowhere", () => {
    expect(brokenLinks(site)).toEqual([]);
  });

  it("asks for nothing from outside", () => {
    for (const page of pagesIn(site)) expect(outsideParts(read(page)), page).toEqual([]);
  });
});

describe("the link checker", () => {
  it("names links to files and places that are not there", () => {
    const links = '<p id="a"><a href="b.html">b</a><a href="#a">a</a><a href="#z">z</a></p>';
    const small = mkdtempSync(join(folder, "links-"));
    writeFileSync(join(small, "a.html"), links);
    expect(brokenLinks(small)).toEqual(["a.html: b.html", "a.html: #z"]);
  });
});

describeWith("chromium", "axe-core in a browser", () => {
  it("finds nothing in the pages, nor in those of a function, a type and the list of names", async () => {
    const api = ["functions/index.segmentBlocks.html", "interfaces/index.Survey.html"];
    const pages = ["index.html", "modules.html", ...api, ...documents()];
    for (const page of pages) expect(await axeViolations(join(site, page)), page).toEqual([]);
  }, 1_200_000);

  it("finds what is wrong in a page that is", async () => {
    const file = join(folder, "wrong.html");
    writeFileSync(file, '<html><body><img src="a.png"></body></html>');
    expect((await axeViolations(file)).join("\n")).toContain("image-alt: ");
  });
});
