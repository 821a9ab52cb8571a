// A thread of the pool: it loads the module that a call names and answers with what `answer` gives.
import { parentPort } from "node:worker_threads";
import { StepError } from "../step-error.js";
import type { Answer, Asked, FromThread } from "./thread-messages.js";

const send = (message: FromThread) => parentPort?.postMessage(message);
const progress = (done: number, total: number) => send({ kind: "progress", done, total });
let held: unknown;

parentPort?.on("message", async ({ module, shared, task }: Asked) => {
  if (shared !== undefined) held = shared.value;
  try {
    const { answer } = (await import(module)) as {
      readonly answer: Answer<unknown, unknown, unknown>;
    };
    send({ kind: "answer", value: await answer(held, task, progress) });
  } catch (error) {
    if (error instanceof StepError) {
      send({ kind: "refused", step: error.step, faults: error.faults });
    } else send({ kind: "fault", error });
  }
});
