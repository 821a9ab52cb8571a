import { Session as Inspector, type Runtime } from "node:inspector";
import { promiseHooks } from "node:v8";
import { sessionGlobal } from "../cell/made-nodes.js";
import { Interrupted } from "./interruption.js";

/** How an evaluation ended. */
export type Evaluation =
  | { readonly threw: false }
  | { readonly threw: true; readonly error: unknown };

/** Evaluates scripts in V8's REPL mode, in this thread and this process's global scope. */
export interface Evaluator {
  evaluate(code: string, sourceName: string): Promise<Evaluation>;
  close(): void;
}

const objectGroup = "banquette";
/**
 * The promises of evaluations that have not ended. One that a termination cut in two never does;
 * were its promise collected, V8 would have the inspector say so from within the collection, and
 * Node 22 ends the process there.
 */
const unsettled = new Set<Promise<unknown>>();

export function createEvaluator(): Evaluator {
  const inspector = new Inspector();
  inspector.connect();
  return {
    close: () => inspector.disconnect(),
    async evaluate(code, sourceName) {
      const { exceptionDetails } = await evaluateInReplMode(inspector, code, sourceName).catch(
        (error: unknown) => {
          if (!isTermination(error)) throw error;
          return { exceptionDetails: null };
        },
      );
      if (exceptionDetails === null) return { threw: true, error: new Interrupted() };
      if (exceptionDetails === undefined) return { threw: false };
      const error = thrownValue(inspector, exceptionDetails);
      inspector.post("Runtime.releaseObjectGroup", { objectGroup });
      return { threw: true, error };
    },
  };
}

// What a worker's `Runtime.terminateExecution` leaves of an evaluation that was computing: Node 20
// says "Execution was terminated", later ones "Internal error".
function isTermination(error: unknown): boolean {
  const { code, message } = error as NodeJS.ErrnoException;
  return code === "ERR_INSPECTOR_COMMAND" && /terminated|Internal error/.test(message);
}

function evaluateInReplMode(
  inspector: Inspector,
  code: string,
  sourceName: string,
): Promise<Runtime.EvaluateReturnType> {
  const parameters = {
    expression: `${code}\n//# sourceURL=${sourceName}`,
    replMode: true,
    awaitPromise: true,
    objectGroup,
    silent: true,
  };
  return new Promise((resolve, reject) => {
    holdingFirstPromise((release) =>
      inspector.post("Runtime.evaluate", parameters, (error, result) => {
        release();
        if (error !== null) reject(error);
        else resolve(result as Runtime.EvaluateReturnType);
      }),
    );
  });
}

// The first promise that an evaluation makes is its own.
function holdingFirstPromise(evaluate: (release: () => void) => void): void {
  const made: Promise<unknown>[] = [];
  let released = false;
  const release = () => {
    released = true;
    for (const promise of made) unsettled.delete(promise);
  };
  const stop = promiseHooks.onInit((promise) => {
    if (made.length === 0) made.push(promise);
  });
  try {
    evaluate(release);
  } finally {
    stop();
    if (!released) for (const promise of made) unsettled.add(promise);
  }
}

// The inspector speaks of objects by number: the session's own global fetches the thrown one.
function thrownValue(inspector: Inspector, details: Runtime.ExceptionDetails): unknown {
  const thrown = details.exception;
  if (thrown === undefined) return new Error(details.text);
  if (thrown.objectId === undefined) return primitive(thrown);
  const holder = (globalThis as Record<string, unknown>)[sessionGlobal] as { thrown: unknown };
  inspector.post("Runtime.callFunctionOn", {
    functionDeclaration: `function () { ${sessionGlobal}.thrown = this; }`,
    objectId: thrown.objectId,
    silent: true,
  });
  const error = holder.thrown;
  holder.thrown = undefined;
  return error;
}

function primitive(thrown: Runtime.RemoteObject): unknown {
  if (thrown.unserializableValue === undefined) return thrown.value as unknown;
  return thrown.unserializableValue;
}
