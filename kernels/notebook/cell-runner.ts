import { type ChildProcess, fork } from "node:child_process";
import { randomUUID } from "node:crypto";
import { fileURLToPath } from "node:url";
import type { CellOutput, SentOutput } from "../session/show/outputs.js";
import { settled } from "../session/show/settled-outputs.js";
import { endRun, hasGroups, markedEnvironment } from "./run-processes.js";
import type { CallProgress, FromWorker, RunCell } from "./worker-messages.js";

export interface CellResult {
  readonly ok: boolean;
  readonly executionCount: number;
  readonly outputs: readonly CellOutput[];
}

/** Runs cells in a child process of its own. */
export interface CellRunner {
  run(source: string, onCall?: (progress: CallProgress) => void): Promise<CellResult>;
  /** Ends the child process and what its cells started, at once, whatever they are doing. */
  stop(): Promise<void>;
}

const workerFile = fileURLToPath(new URL("./worker.js", import.meta.url));
/** Characters kept of what the child wrote to its streams past the session. */
const keptText = 2000;

export function startCellRunner(folder: string): CellRunner {
  const mark = randomUUID();
  const child = fork(workerFile, [String(process.pid), mark], {
    cwd: folder,
    stdio: ["ignore", "pipe", "pipe", "ipc"],
    // New objects are collected more seldom than by default, when most of them are gone.
    execArgv: ["--max-semi-space-size=64"],
    detached: hasGroups,
    env: { ...plainEnvironment(), ...markedEnvironment(mark) },
  });
  const ended = new Promise<void>((resolve) => child.once("exit", () => resolve()));
  // Whoever waits for a cell is told; where nobody waits there is nothing to say.
  child.on("error", () => undefined);
  const lastWords = keepLast(child);
  const ready = nextEnd(child, { outputs: [] }, lastWords);
  ready.catch(() => undefined);
  return {
    async stop() {
      if (child.pid === undefined) return;
      endRun({ pid: child.pid, mark });
      await ended;
    },
    async run(source, onCall) {
      await ready;
      const outputs: SentOutput[] = [];
      const end = nextEnd(child, { outputs, onCall }, lastWords);
      child.send({ kind: "run", source } satisfies RunCell);
      const { ok, executionCount } = await end;
      return { ok, executionCount, outputs: settled(outputs) };
    },
  };
}

// No colours in texts that are stored.
function plainEnvironment(): NodeJS.ProcessEnv {
  const { FORCE_COLOR: _, ...kept } = process.env;
  return { ...kept, NO_COLOR: "1" };
}

type End = { readonly ok: boolean; readonly executionCount: number };

interface Heard {
  readonly outputs: SentOutput[];
  readonly onCall?: ((progress: CallProgress) => void) | undefined;
}

// Collects outputs until the worker says that it is ready or that the cell is done.
function nextEnd(child: ChildProcess, { outputs, onCall }: Heard, lastWords: () => string) {
  return new Promise<End>((resolve, reject) => {
    const onMessage = (message: FromWorker) => {
      if (message.kind === "output") outputs.push(message.output);
      else if (message.kind === "progress") onCall?.(message);
      else if (message.kind === "fault") finish(() => reject(new WorkerFailed(message.text)));
      else if (message.kind === "done") finish(() => resolve(message));
      else finish(() => resolve({ ok: true, executionCount: 0 }));
    };
    const onExit = (code: number | null, signal: string | null) => {
      finish(() => reject(new WorkerEnded(code, signal, lastWords())));
    };
    const onError = ({ message }: Error) => finish(() => reject(new WorkerFailed(message)));
    const finish = (then: () => void) => {
      child.off("message", onMessage);
      child.off("exit", onExit);
      child.off("error", onError);
      then();
    };
    if (child.exitCode !== null || child.signalCode !== null) {
      return onExit(child.exitCode, child.signalCode);
    }
    child.on("message", onMessage);
    child.on("exit", onExit);
    child.on("error", onError);
  });
}

/** The kernel could not go on with a cell: what earlier cells changed in the process may be why. */
export class WorkerFailed extends Error {
  override readonly name = "KernelFailed";
}

/** The child process ended while a cell was running: `process.exit`, a kill, or a crash. */
export class WorkerEnded extends Error {
  override readonly name = "KernelEnded";

  constructor(code: number | null, signal: string | null, lastWords: string) {
    const how = signal === null ? `exit code ${code}` : `signal ${signal}`;
    super(`the process in which the cells run ended (${how})\n${lastWords}`.trim());
  }
}

function keepLast(child: ChildProcess): () => string {
  let text = "";
  for (const stream of [child.stdout, child.stderr]) {
    stream?.on("data", (chunk: Buffer) => {
      text = (text + chunk.toString()).slice(-keptText);
    });
  }
  return () => text;
}
