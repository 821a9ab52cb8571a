import { type ChildProcess, fork } from "node:child_process";
import { fileURLToPath } from "node:url";
import type { CellOutput, SentOutput } from "../session/show/outputs.js";
import { settled } from "../session/show/settled-outputs.js";
import type { FromWorker, RunCell } from "./worker-messages.js";

export interface CellResult {
  readonly ok: boolean;
  readonly executionCount: number;
  readonly outputs: readonly CellOutput[];
}

/** Runs cells in a child process of its own. */
export interface CellRunner {
  run(source: string): Promise<CellResult>;
  /** Ends the child process at once, whatever it is doing. */
  stop(): void;
}

const workerFile = fileURLToPath(new URL("./worker.js", import.meta.url));
/** Characters kept of what the child wrote to its streams past the session. */
const keptText = 2000;

export function startCellRunner(folder: string): CellRunner {
  const child = fork(workerFile, [], {
    cwd: folder,
    stdio: ["ignore", "pipe", "pipe", "ipc"],
    execArgv: [],
    env: plainEnvironment(),
  });
  const lastWords = keepLast(child);
  const ready = nextEnd(child, [], lastWords);
  ready.catch(() => undefined);
  return {
    stop: () => child.kill("SIGKILL"),
    async run(source) {
      await ready;
      const outputs: SentOutput[] = [];
      const end = nextEnd(child, outputs, lastWords);
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

// Collects outputs until the worker says that it is ready or that the cell is done.
function nextEnd(child: ChildProcess, outputs: SentOutput[], lastWords: () => string) {
  return new Promise<End>((resolve, reject) => {
    const onMessage = (message: FromWorker) => {
      if (message.kind === "output") outputs.push(message.output);
      else if (message.kind === "fault") finish(() => reject(new Error(message.text)));
      else if (message.kind === "done") finish(() => resolve(message));
      else finish(() => resolve({ ok: true, executionCount: 0 }));
    };
    const onExit = (code: number | null, signal: string | null) => {
      finish(() => reject(new WorkerEnded(code, signal, lastWords())));
    };
    const finish = (then: () => void) => {
      child.off("message", onMessage);
      child.off("exit", onExit);
      then();
    };
    child.on("message", onMessage);
    child.on("exit", onExit);
  });
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
