/** Gives this process further globals; returns the function that takes them away. */
export function defineGlobals(values: Readonly<Record<string, unknown>>): () => void {
  for (const [name, value] of Object.entries(values)) {
    Object.defineProperty(globalThis, name, {
      value,
      configurable: true,
      writable: true,
      enumerable: false,
    });
  }
  return () => {
    for (const name of Object.keys(values)) Reflect.deleteProperty(globalThis, name);
  };
}

/**
 * Reports errors that no cell waits for: a rejected promise left alone, a throw in a timer. Returns
 * the function that ends it.
 */
export function onStrayErrors(report: (error: unknown) => void): () => void {
  process.on("unhandledRejection", report);
  process.on("uncaughtException", report);
  return () => {
    process.off("unhandledRejection", report);
    process.off("uncaughtException", report);
  };
}
