// The completion scripts, asked by the shells themselves.
import { spawnSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { describeWith } from "../../../support/needs.js";
import { banquetteIn } from "../banquette.js";

let folder = "";
const scriptOf = (shell: string) => join(folder, `banquette.${shell}`);

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "wend-"));
  for (const shell of ["bash", "zsh", "fish"]) {
    const { out, exitCode } = await banquetteIn(folder, ["completion", shell]);
    expect(exitCode).toBe(0);
    writeFileSync(scriptOf(shell), out);
  }
});
afterAll(() => rm(folder, { recursive: true, force: true }));

function ranBy(shell: string, words: readonly string[]): readonly string[] {
  const { status, stdout, stderr } = spawnSync(shell, [...words], { encoding: "utf8" });
  expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
  return stdout.split("\n").filter((line) => line !== "");
}

const helps = new Map<string, string>();

/** What `--help` of a command lists, options and commands. */
async function helpOf(words: readonly string[]) {
  const key = words.join(" ");
  const out = helps.get(key) ?? (await banquetteIn(folder, [...words, "--help"])).out;
  helps.set(key, out);
  return {
    options: [...out.matchAll(/^ {2}(?:-\w, )?(--[\w-]+)/gm)].map(([, flag = ""]) => flag),
    commands: [...out.matchAll(/^ {2}([a-z]+) /gm)].map(([, name = ""]) => name),
  };
}

const paths = [[], ["check"], ["appendix"], ["run"], ["new"], ["kernel"], ["kernel", "install"]];

describe("the completion script for bash", () => {
  const asked = (...words: readonly string[]) => {
    const typed = ["banquette", ...words].map((word) => `'${word}'`).join(" ");
    // compopt works only inside a completion; here it tells what it was asked for.
    const script = `source '${scriptOf("bash")}'; compopt() { echo "compopt $*"; }
      COMP_WORDS=(${typed}); COMP_CWORD=${words.length}; _banquette; printf '%s\\n' "\${COMPREPLY[@]}"`;
    return ranBy("bash", ["--norc", "-c", script]);
  };

  it("offers each command's options and commands, as the help lists them", async () => {
    for (const path of paths) {
      const { options, commands } = await helpOf(path);
      expect(options.length).toBeGreaterThan(0);
      expect(asked(...path, "--"), path.join(" ")).toEqual(options);
      if (commands.length > 0) expect(asked(...path, "")).toEqual(commands);
    }
  });

  it("completes what was begun", () => {
    expect(asked("ap")).toEqual(["appendix"]);
    expect(asked("kernel", "un")).toEqual(["uninstall"]);
    expect(asked("appendix", "a bank", "--wa")).toEqual(["--watch"]);
    expect(asked("completion", "")).toEqual(["bash", "zsh", "fish"]);
  });

  it("leaves files to readline, folders where a folder is asked for, and offers no file for text", () => {
    expect(asked("run", "")).toEqual([]);
    expect(asked("check", "")).toEqual(["compopt -o dirnames +o default"]);
    expect(asked("appendix", "bank", "--out", "")).toEqual(["compopt -o dirnames +o default"]);
    expect(asked("appendix", "bank", "--notebook", "")).toEqual([]);
    expect(asked("appendix", "bank", "--set", "author=me", "")).toEqual(["compopt +o default"]);
  });
});

describeWith("fish", "the completion script for fish", () => {
  const asked = (line: string) =>
    ranBy("fish", ["--no-config", "-c", `source '${scriptOf("fish")}'; complete -C '${line}'`]).map(
      (offer) => offer.split("\t")[0],
    );

  it("offers each command's options and commands, as the help lists them", async () => {
    for (const path of paths) {
      const { options, commands } = await helpOf(path);
      const line = ["banquette", ...path, ""].join(" ");
      expect(asked(`${line}--`), line).toEqual([...options].sort());
      if (commands.length > 0) expect(asked(line)).toEqual([...commands].sort());
    }
  });

  it("offers the shells, once", () => {
    expect(asked("banquette completion ")).toEqual(["bash", "fish", "zsh"]);
  });
});

describeWith("zsh", "the completion script for zsh", () => {
  // `_arguments` is zsh's own reader of such lists; here it shows what it is handed.
  const specsOf = (path: readonly string[]) =>
    ranBy("zsh", [
      "-f",
      "-c",
      `compdef() { }; _describe() { }; _arguments() { print -rl -- "$@" };
       source '${scriptOf("zsh")}'; ${["_banquette", ...path].join("_")}`,
    ]);

  it("hands over each command's options, as the help lists them", async () => {
    for (const path of paths) {
      const { options } = await helpOf(path);
      const flags = specsOf(path).flatMap((spec) => /^\*?(--[\w-]+)\[/.exec(spec)?.[1] ?? []);
      expect(flags, path.join(" ")).toEqual(options);
    }
  });

  it("tells folders from files and from free text", () => {
    const specs = specsOf(["appendix"]);
    expect(specs).toContain("1:FOLDER:_files -/");
    expect(specs.filter((spec) => /^--notebook.*:FILE:_files$/.test(spec))).toHaveLength(1);
    expect(specs.filter((spec) => /^\*--set.*:name=value: $/.test(spec))).toHaveLength(1);
  });
});
