import { fork } from "node:child_process";
import { fileURLToPath } from "node:url";
import type { Session } from "../../../kernels/session/session.js";
import type { SessionOptions } from "../../../kernels/session/session-options.js";
import type { CellOutput, SentOutput } from "../../../kernels/session/show/outputs.js";
import { settled } from "../../../kernels/session/show/settled-outputs.js";
import { repository } from "./cells.js";

type Method =
  | "execute"
  | "expression"
  | "complete"
  | "inspect"
  | "isComplete"
  | "interrupt"
  | "lineage"
  | "cellsDeleted";
type Given<Name extends Method> = Awaited<ReturnType<Session[Name]>>;

export interface Answer<Value> {
  readonly value: Value;
  /** What was put out meanwhile, as it was sent. */
  readonly outputs: readonly SentOutput[];
}

/** A session in a process of its own, whose methods are called from here. */
export interface RemoteSession {
  call<Name extends Method>(
    method: Name,
    ...args: Parameters<Session[Name]>
  ): Promise<Answer<Given<Name>>>;
  /** Executes the cells; gives the last one's outputs as a notebook stores them. */
  run(...sources: readonly string[]): Promise<readonly CellOutput[]>;
  stop(): void;
}

const file = fileURLToPath(new URL("./session-child.mjs", import.meta.url));

export function startSession(
  options: Partial<SessionOptions> = {},
  folder = repository,
): RemoteSession {
  const env = { ...process.env, NO_COLOR: "1" };
  const child = fork(file, [JSON.stringify(options)], { cwd: folder, execArgv: [], env });
  const waiting = new Map<number, (answer: Answer<never>) => void>();
  const ready = new Promise<void>((resolve) => waiting.set(0, () => resolve()));
  child.on("message", (message: Answer<never> & { readonly id: number }) => {
    waiting.get(message.id)?.(message);
    waiting.delete(message.id);
  });
  let last = 0;
  const call: RemoteSession["call"] = async (method, ...args) => {
    await ready;
    last += 1;
    const id = last;
    return new Promise((resolve) => {
      waiting.set(id, resolve as (answer: Answer<never>) => void);
      child.send({ id, method, args });
    });
  };
  const run = async (...sources: readonly string[]) => {
    let outputs: readonly SentOutput[] = [];
    for (const source of sources) ({ outputs } = await call("execute", source));
    return settled(outputs);
  };
  return { call, run, stop: () => child.kill("SIGKILL") };
}
