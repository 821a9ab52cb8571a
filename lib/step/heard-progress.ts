/** Told how much of how much is done. */
export type Tell = (done: number, total: number) => void;

/**
 * Where the place that runs the steps (a terminal, a notebook) may set a function of what, done,
 * total.
 */
const listener = Symbol.for("banquette.progress");

/**
 * Does long work that tells its progress to whoever listens in this process. Only the outermost
 * call is heard: what it calls in turn finds nobody.
 *
 * @param what the name of what goes on, such as "estimateDepthSlices"
 * @param work is given the function to tell, or null where nobody listens
 */
export async function heard<Value>(
  what: string,
  work: (tell: Tell | null) => Promise<Value>,
): Promise<Value> {
  const listens: unknown = Reflect.get(globalThis, listener);
  if (typeof listens !== "function") return work(null);
  Reflect.deleteProperty(globalThis, listener);
  try {
    return await work((done, total) => listens(what, done, total));
  } finally {
    Reflect.set(globalThis, listener, listens);
  }
}
