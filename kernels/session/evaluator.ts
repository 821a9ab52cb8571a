import { Session as Inspector, type Runtime } from "node:inspector";
import { Interrupted } from "./interruption.js";
import { sessionGlobal } from "./made-nodes.js";

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

// What a worker's `Runtime.terminateExecution` leaves of an evaluation that was computing.
function isTermination(error: unknown): boolean {
  const { code, message } = error as NodeJS.ErrnoException;
  return code === "ERR_INSPECTOR_COMMAND" && /terminated/.test(message);
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
    inspector.post("Runtime.evaluate", parameters, (error, result) => {
      if (error !== null) reject(error);
      else resolve(result as Runtime.EvaluateReturnType);
    });
  });
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
