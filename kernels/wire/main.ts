// The kernel that Jupyter starts: `node main.js CONNECTION_FILE`. Cells run in this thread; the
// sockets live in a thread of their own.
import { basename } from "node:path";
import { setFlagsFromString } from "node:v8";
import { Worker } from "node:worker_threads";
import { createUnsent } from "./back-pressure.js";
import { Kernel } from "./kernel.js";
import { kernelInfo } from "./kernel-info.js";
import type { FromMain, ThreadData, ToMain } from "./port-messages.js";

const [connectionFile] = process.argv.slice(2);
if (connectionFile === undefined) {
  process.stderr.write(
    `banquette: usage: node ${basename(process.argv[1] ?? "")} CONNECTION_FILE\n`,
  );
  process.exit(2);
}
// Every check of a cell leaves some megabytes of garbage: collected at half as much again, and not at
// several times the heap, it costs no time and saves a third of the memory after 300 cells.
setFlagsFromString("--heap-growing-percent=50");
// The thread with the sockets takes interrupts; without this the first one would end the process.
process.on("SIGINT", () => undefined);

const shielded = new Int32Array(new SharedArrayBuffer(4));
const unsent = createUnsent();
// Nothing ends the loading of the kernel itself.
Atomics.store(shielded, 0, 1);
const thread = new Worker(new URL("./thread.js", import.meta.url), {
  workerData: { connectionFile, info: kernelInfo(), shielded, unsent } satisfies ThreadData,
});
const errorStream = process.stderr.write.bind(process.stderr);
const exit = process.exit.bind(process);
thread.on("error", (error) => {
  errorStream(`banquette: the kernel's sockets failed: ${error.message}\n`);
  exit(3);
});
const kernel = new Kernel({
  folder: process.cwd(),
  shielded,
  unsent,
  post: (message: FromMain) => thread.postMessage(message),
});
thread.on("message", (message: ToMain) => kernel.take(message));
kernel.warmUp();
Atomics.store(shielded, 0, 0);
