// A thread beside the cells: where the command is gone, however it ended and whatever a cell
// computes, the run ends with it.
import { workerData } from "node:worker_threads";
import { endRun, type RunProcesses } from "./run-processes.js";

/** What the thread is told. */
export interface WatchData {
  readonly parent: number;
  readonly run: RunProcesses;
}

/** How often the parent process is looked for, ms. */
const every_ms = 200;

const { parent, run } = workerData as WatchData;
setInterval(() => {
  if (process.ppid !== parent) endRun(run);
}, every_ms);
