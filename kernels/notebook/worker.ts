// The child process in which a notebook's cells run: a fresh global scope, started in the
// notebook's folder, ended by its parent or together with it.
import { Worker } from "node:worker_threads";
import { errorParts } from "../session/run/error-parts.js";
import { Session } from "../session/session.js";
import { paced } from "./call-progress.js";
import { limitedOutput } from "./limited-output.js";
import type { WatchData } from "./parent-watch.js";
import { endRun, type RunProcesses } from "./run-processes.js";
import type { FromWorker, RunCell } from "./worker-messages.js";

const [parent, mark = ""] = process.argv.slice(2);
const run: RunProcesses = { pid: process.pid, mark };
const watchData: WatchData = { parent: Number(parent), run };
new Worker(new URL("./parent-watch.js", import.meta.url), { workerData: watchData }).unref();

// The way to the parent is the kernel's alone.
const toParent = process.send?.bind(process);
Reflect.deleteProperty(process, "send");

function send(message: FromWorker): void {
  toParent?.(message);
}

const outputs = limitedOutput((output) => send({ kind: "output", output }));
const session = new Session({
  folder: process.cwd(),
  // From top to bottom in a fresh process, every name is what its cells make it.
  notices: false,
  onOutput: outputs.send,
  onCall: paced(
    (progress) => send({ kind: "progress", ...progress }),
    () => performance.now(),
  ),
});

process.on("message", (message: RunCell) => {
  outputs.begin();
  session.execute(message.source).then(
    ({ ok, executionCount }) => send({ kind: "done", ok, executionCount }),
    (error: unknown) => send({ kind: "fault", text: faultText(error) }),
  );
});
// An interrupt from the keyboard may reach it; the parent decides what becomes of it.
process.on("SIGINT", () => undefined);
// The parent is gone: what the cells started goes with it, which an exit alone would leave.
process.on("disconnect", () => endRun(run));

send({ kind: "ready" });

function faultText(error: unknown): string {
  const { stack, name, message } = errorParts(error);
  return stack === "" ? `${name}: ${message}` : stack;
}
