// The child process in which a notebook's cells run: a fresh global scope, started in the
// notebook's folder, ended by its parent.
import { Session } from "../session/session.js";
import type { FromWorker, RunCell } from "./worker-messages.js";

function send(message: FromWorker): void {
  process.send?.(message);
}

const session = new Session({
  folder: process.cwd(),
  // From top to bottom in a fresh process, every name is what its cells make it.
  notices: false,
  onOutput: (output) => send({ kind: "output", output }),
});

process.on("message", (message: RunCell) => {
  session.execute(message.source).then(
    ({ ok, executionCount }) => send({ kind: "done", ok, executionCount }),
    (error: unknown) => send({ kind: "fault", text: String((error as Error).stack ?? error) }),
  );
});
// An interrupt from the keyboard reaches the whole group; the parent decides what becomes of it.
process.on("SIGINT", () => undefined);
process.on("disconnect", () => process.exit());

send({ kind: "ready" });
