// The pages as they are written: each step has its page, and says what a page of a step has to say.
import { readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { type Page, parsePage, readPages } from "../../docs/site/page.js";
import { standardLinks } from "../../lib/chain/standard-links.js";

const folder = resolve(import.meta.dirname, "../../docs/pages");
const textOf = (path: string) => readFileSync(join(folder, path), "utf8");

let pages: readonly Page[] = [];
beforeAll(async () => {
  pages = await readPages(folder);
});

const inFolder = (name: string) => pages.filter(({ path }) => path.startsWith(`${name}/`));

describe("the pages of the documentation", () => {
  it("hold a tutorial of nine, each pointing to the next", () => {
    const tutorial = inFolder("tutorial").map(({ path }) => path);
    expect(tutorial).toHaveLength(9);
    for (const [at, next] of tutorial.slice(1).entries()) {
      expect(textOf(tutorial[at] ?? "")).toContain(`](${next.replace("tutorial/", "")})`);
    }
  });

  it("show the options of every step that has some, from its definition", () => {
    const text = inFolder("steps").map(({ path }) => textOf(path));
    const steps = standardLinks
      .map(({ step }) => step)
      .filter(({ name, options }) => Object.keys(options).length > 0 && name !== "interpret");
    expect(steps.length).toBeGreaterThan(10);
    for (const { name } of steps) {
      expect(
        text.filter((one) => one.includes(`{{options ${name}}}`)),
        name,
      ).toHaveLength(1);
    }
  });

  it("say of each step what it assumes, when it fails, and how one sees that, beside an example", () => {
    for (const { path, blocks } of inFolder("steps")) {
      const text = textOf(path);
      for (const part of ["**It assumes**", "**It fails**", "**One sees that**"]) {
        expect(text, path).toContain(part);
      }
      expect(
        blocks.some((one) => one.kind === "code" && one.language === "ts"),
        path,
      ).toBe(true);
    }
  });

  it("have no example that is not executed", () => {
    for (const { path, blocks } of pages) {
      for (const block of blocks) {
        if (block.kind === "code") expect(["sh", "ts"], path).toContain(block.language);
        else expect(block.text, path).not.toContain("```");
      }
    }
  });
});

describe("parsePage", () => {
  it("cuts a page at its fenced blocks, with the words behind the language", () => {
    const { blocks } = parsePage("a.md", "one\n\n```sh exit=1 quiet\nls\n```\n\ntwo\n");
    expect(blocks).toEqual([
      { kind: "text", text: "one\n\n" },
      {
        kind: "code",
        language: "sh",
        words: new Map([
          ["exit", "1"],
          ["quiet", ""],
        ]),
        source: "ls",
      },
      { kind: "text", text: "\n\ntwo\n" },
    ]);
  });
});
