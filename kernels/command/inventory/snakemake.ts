import { spawn } from "node:child_process";
import { createWriteStream, type WriteStream } from "node:fs";
import { join } from "node:path";
import { InputFault, UsageFault } from "../failure.js";
import { packageFolder } from "../package.js";

/** The rules that come with the package. */
const snakefile = join(packageFolder, "kernels", "command", "inventory", "Snakefile");

/** Executor plugins and per-job retries came with it. */
const OLDEST = 8;

/** Words for the engine that say where and how many jobs run. */
export interface EngineOptions {
  /** Jobs at a time: cores on this machine, or jobs handed to another executor. */
  readonly jobs: number;
  readonly profile: string | undefined;
  readonly executor: string | undefined;
  /** Further words, handed on as they are. */
  readonly words: readonly string[];
}

const program = () => process.env.BANQUETTE_SNAKEMAKE ?? "snakemake";

const howToInstall =
  "install it with: python3 -m pip install snakemake (or pipx install snakemake); " +
  "BANQUETTE_SNAKEMAKE names it where it is not on the PATH";

/** Throws where Snakemake is missing or too old, and says how to install it. */
export async function needSnakemake(): Promise<void> {
  const said: string[] = [];
  const code = await ended(["--version"], (text) => said.push(text)).catch(() => null);
  const version = said.join("").trim();
  if (code === null) {
    throw new UsageFault(
      `an inventory's jobs run on Snakemake, which is not there; ${howToInstall}`,
    );
  }
  if (!(Number.parseInt(version, 10) >= OLDEST)) {
    const got = version.split("\n")[0] || "an unknown one";
    throw new UsageFault(
      `Snakemake must be version ${OLDEST} or newer, got ${got}; ${howToInstall}`,
    );
  }
}

export interface EngineRun extends EngineOptions {
  /** The inventory's output folder, where the engine keeps its own notes too. */
  readonly out: string;
  readonly signal: AbortSignal;
  /** Told how many of how many jobs are done. */
  readonly progress: (done: number, of: number) => void;
}

/** Lets Snakemake run every reach that is not up to date. True where every job ended well. */
export async function runReaches(run: EngineRun): Promise<boolean> {
  await ended([...common(run), "--unlock"], () => {});
  const log = createWriteStream(join(run.out, "snakemake.log"));
  try {
    const words = [...common(run), ...placed(run), ...run.words];
    const code = await ended(words, (text) => heard(text, log, run.progress), run.signal);
    return code === 0;
  } finally {
    log.end();
  }
}

function common({ out }: EngineRun): readonly string[] {
  const files = ["--snakefile", snakefile, "--directory", out];
  return [...files, "--configfile", join(out, "inventory-run.json"), "--nocolor"];
}

function placed({ jobs, profile, executor }: EngineRun): readonly string[] {
  const cores = executor === undefined ? ["--cores", `${jobs}`] : ["--jobs", `${jobs}`];
  return [
    ...["--keep-going", "--rerun-incomplete", "--rerun-triggers", "mtime", "params", "input"],
    ...(profile === undefined ? [] : ["--profile", profile]),
    ...(executor === undefined ? [] : ["--executor", executor]),
    ...cores,
  ];
}

function heard(text: string, log: WriteStream, progress: EngineRun["progress"]): void {
  log.write(text);
  for (const [, done, of] of text.matchAll(/(\d+) of (\d+) steps/g)) {
    progress(Number(done), Number(of));
  }
}

/** The exit code; rejects where the program cannot be started. */
function ended(
  words: readonly string[],
  hear: (text: string) => void,
  signal?: AbortSignal,
): Promise<number> {
  return new Promise((resolve, reject) => {
    const child = spawn(program(), words, { stdio: ["ignore", "pipe", "pipe"] });
    const stop = () => child.kill("SIGINT");
    signal?.addEventListener("abort", stop);
    for (const stream of [child.stdout, child.stderr]) {
      stream.setEncoding("utf8").on("data", hear);
    }
    child.on("error", reject);
    child.on("close", (code) => {
      signal?.removeEventListener("abort", stop);
      if (signal?.aborted) reject(new InputFault(["interrupted; the same command goes on"]));
      else resolve(code ?? 1);
    });
  });
}
