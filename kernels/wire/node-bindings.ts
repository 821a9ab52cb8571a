import { Session as Inspector, type Runtime } from "node:inspector";

/** Gives what Node itself is made of, by name. */
export type Bindings = (name: string) => unknown;

const fetched = "__banquetteBindings";
let known: Bindings | null = null;

/**
 * Node's own bindings: by `process.binding`, which is deprecated and has no successor, and which
 * from Node 24 on no longer gives all. There the inspector finds the function that
 * `process.binding` calls itself. Null where Node gives neither.
 */
export function nodeBinding(name: string): unknown {
  return documented(name) ?? internal(name);
}

function documented(name: string): unknown {
  const before = process.noDeprecation;
  process.noDeprecation = true;
  try {
    return (process as unknown as { binding: Bindings }).binding(name);
  } catch {
    return null;
  } finally {
    if (before === undefined) Reflect.deleteProperty(process, "noDeprecation");
    else process.noDeprecation = before;
  }
}

function internal(name: string): unknown {
  try {
    known ??= findBindings();
    return known?.(name) ?? null;
  } catch {
    return null;
  }
}

// The name is known in the innermost scope of `process.binding` that has it.
function findBindings(): Bindings | null {
  const inspector = new Inspector();
  inspector.connect();
  try {
    const { result } = answer<Runtime.EvaluateReturnType>(inspector, "Runtime.evaluate", {
      expression: "process.binding",
    });
    const scopes = propertiesOf(inspector, result).internalProperties?.find(
      (one) => one.name === "[[Scopes]]",
    )?.value;
    if (scopes === undefined) return null;
    for (const { value } of propertiesOf(inspector, scopes).result) {
      const variables = value === undefined ? [] : propertiesOf(inspector, value).result;
      const found = variables.find((one) => one.name === "internalBinding")?.value;
      if (found !== undefined) return fetch(inspector, found);
    }
    return null;
  } finally {
    inspector.disconnect();
  }
}

function propertiesOf(
  inspector: Inspector,
  { objectId }: Runtime.RemoteObject,
): Runtime.GetPropertiesReturnType {
  return answer(inspector, "Runtime.getProperties", { objectId, ownProperties: true });
}

function fetch(inspector: Inspector, { objectId }: Runtime.RemoteObject): Bindings {
  const holder = globalThis as Record<string, unknown>;
  const functionDeclaration = `function () { globalThis.${fetched} = this; }`;
  answer(inspector, "Runtime.callFunctionOn", { objectId, functionDeclaration });
  const bindings = holder[fetched] as Bindings;
  Reflect.deleteProperty(holder, fetched);
  return bindings;
}

// The inspector of this same thread answers at once.
function answer<Result>(inspector: Inspector, method: string, parameters: object): Result {
  let given: { readonly error: Error | null; readonly result?: object } | null = null;
  inspector.post(method, parameters, (error, result) => {
    given = { error, ...(result !== undefined && { result }) };
  });
  const { error, result } = given ?? { error: new Error(`${method}: no answer`), result: {} };
  if (error !== null) throw error;
  return result as Result;
}
