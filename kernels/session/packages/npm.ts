import { type ChildProcess, spawn } from "node:child_process";
import { existsSync } from "node:fs";
import { dirname, join } from "node:path";
import { PackageFault } from "./package-fault.js";

export interface NpmTask {
  /** Folder whose package.json, package-lock.json and node_modules take the package. */
  readonly folder: string;
  /** `name` or `name@version`. */
  readonly spec: string;
  /** Aborting it ends npm, which takes back what it began. */
  readonly signal: AbortSignal | null;
  /** Told of every answer of the registry. */
  readonly onAnswer: () => void;
}

/** How an installation ended: null where it went well, else npm's own code and words. */
export type NpmFailure = { readonly code: string; readonly summary: string } | null;

/** No script of the package runs; one exact version is kept; a registry out of reach is told soon. */
const options = [
  ...["--save-exact", "--ignore-scripts", "--no-audit", "--no-fund", "--no-update-notifier"],
  ...["--fetch-retries=2", "--fetch-retry-mintimeout=500", "--fetch-retry-factor=2"],
  ...["--json", "--loglevel=http"],
];
/** Time that npm has to take back what it began, ms. */
const rollback_ms = 4000;
const answer = /^npm http (?:fetch|cache) /gm;

/** Has npm install one package, in a process of its own. Rejects with PackageFault where there is no npm. */
export function npmInstall({ folder, spec, signal, onAnswer }: NpmTask): Promise<NpmFailure> {
  const [program, first] = npmCommand();
  const words = [...first, "install", "--prefix", folder, ...options, "--", spec];
  const npm = spawn(program, words, { cwd: folder, stdio: ["ignore", "pipe", "pipe"] });
  const end = () => endSoon(npm);
  const kill = () => npm.kill("SIGKILL");
  signal?.addEventListener("abort", end);
  process.on("exit", kill);
  let [said, told] = ["", ""];
  npm.stdout.on("data", (chunk: Buffer) => {
    said += chunk.toString();
  });
  npm.stderr.on("data", (chunk: Buffer) => {
    told = (told + chunk.toString()).slice(-4000);
    for (const _ of chunk.toString().matchAll(answer)) onAnswer();
  });
  return new Promise<NpmFailure>((resolve, reject) => {
    npm.on("error", () => reject(new PackageFault("npm, which comes with Node, is not found")));
    npm.on("close", (code) => resolve(code === 0 ? null : failureIn(said, told)));
  }).finally(() => {
    signal?.removeEventListener("abort", end);
    process.off("exit", kill);
  });
}

function endSoon(npm: ChildProcess): void {
  npm.kill("SIGINT");
  setTimeout(() => npm.kill("SIGKILL"), rollback_ms).unref();
}

// Beside this Node where it is there, without a shell between; else the one on the path.
function npmCommand(): readonly [program: string, first: readonly string[]] {
  const beside = dirname(process.execPath);
  const script = join("node_modules", "npm", "bin", "npm-cli.js");
  const file = [join(beside, script), join(beside, "..", "lib", script)].find(existsSync);
  return file === undefined ? ["npm", []] : [process.execPath, [file]];
}

function failureIn(said: string, told: string): { code: string; summary: string } {
  try {
    const { error } = JSON.parse(said.slice(said.indexOf("{"))) as {
      readonly error: { readonly code?: string | null; readonly summary?: string };
    };
    return { code: error.code ?? "", summary: error.summary ?? "" };
  } catch {
    const last = told.trim().split("\n").at(-1) ?? "";
    return { code: "", summary: last.replace(/^npm (?:error|ERR!) /, "") };
  }
}
