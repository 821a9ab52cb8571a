import { constants } from "node:os";

interface SignalWatcher {
  onsignal: () => void;
  start(signal: number): number;
  unref(): void;
}

interface Bindings {
  binding(name: "signal_wrap"): { readonly Signal: new () => SignalWatcher };
  binding(name: "async_wrap"): {
    readonly async_hook_fields: Float64Array | Uint32Array;
    readonly constants: { readonly kCheck: number; readonly kTotals: number };
  };
}

let watcher: SignalWatcher | null = null;

/**
 * Calls back on SIGINT, in a worker thread too, where `process.on` has no signals: a main thread
 * that computes would hear of the signal only afterwards. False where Node does not give the means.
 */
export function onInterruptSignal(interrupt: () => void): boolean {
  return withBindings((node) => {
    const { Signal } = node.binding("signal_wrap");
    watcher = new Signal();
    watcher.onsignal = interrupt;
    watcher.unref();
    return watcher.start(constants.signals.SIGINT) === 0;
  });
}

/**
 * Lets asynchronous work be ended in the middle. Node 20 counts what begins and ends in it, and ends
 * the process where the two do not match, as after a termination. Later versions do not count for
 * AsyncLocalStorage. Called before every cell: a package that follows asynchronous work turns the
 * count on again. False where Node does not give the means.
 */
export function allowTermination(): boolean {
  return withBindings((node) => {
    const { async_hook_fields: fields, constants: at } = node.binding("async_wrap");
    fields[at.kCheck] = 0;
    fields[at.kTotals] = 0;
    return true;
  });
}

// `process.binding` is deprecated and has no successor for these two.
function withBindings(use: (node: Bindings) => boolean): boolean {
  const before = process.noDeprecation;
  process.noDeprecation = true;
  try {
    return use(process as unknown as Bindings);
  } catch {
    return false;
  } finally {
    if (before === undefined) Reflect.deleteProperty(process, "noDeprecation");
    else process.noDeprecation = before;
  }
}
