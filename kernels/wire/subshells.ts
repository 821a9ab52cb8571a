import { randomUUID } from "node:crypto";
import type { Content } from "./messages.js";
import { type Handle, ShellQueue } from "./shell-queue.js";

/**
 * Further queues of shell requests, each by its id: one does not wait for another.
 * Source: Jupyter Enhancement Proposal 91, "Use kernel subshells for concurrent shell requests".
 */
export class Subshells {
  readonly #handle: Handle;
  readonly #queues = new Map<string, ShellQueue>();

  constructor(handle: Handle) {
    this.#handle = handle;
  }

  /** The queue of this id; undefined where there is none. */
  queue(id: string): ShellQueue | undefined {
    return this.#queues.get(id);
  }

  /** The reply's content to a control request about subshells; null for another request. */
  answer(type: string, { subshell_id: id }: Content): Content | null {
    if (type === "create_subshell_request") {
      const made = randomUUID();
      this.#queues.set(made, new ShellQueue(this.#handle));
      return { status: "ok", subshell_id: made };
    }
    if (type === "list_subshell_request") {
      return { status: "ok", subshell_id: [...this.#queues.keys()] };
    }
    if (type !== "delete_subshell_request") return null;
    // What waits in it is still answered.
    return this.#queues.delete(String(id)) ? { status: "ok" } : unknownSubshell(id);
  }
}

/** The error of a request that names a subshell which is not there. */
export function unknownSubshell(id: unknown): Content {
  const evalue = `there is no subshell ${JSON.stringify(id)}`;
  return { status: "error", ename: "UnknownSubshell", evalue, traceback: [evalue] };
}
