import type { Debugger as V8Debugger } from "node:inspector";
import type { Content } from "../messages.js";
import { Breakpoints, type WantedBreakpoint } from "./breakpoints.js";
import type { DebugFromMain, DebugRequest, DebugToMain } from "./debug-messages.js";
import { DebugValues } from "./debug-values.js";
import { DebuggedCells, sourcePaths } from "./debugged-cells.js";
import { evaluated, globalVariables } from "./global-variables.js";
import { MainInspector } from "./main-inspector.js";
import { Paused } from "./paused.js";

export interface DebuggerOptions {
  readonly post: (message: DebugToMain) => void;
  /** Publishes an event of the Debug Adapter Protocol. */
  readonly event: (content: Content) => void;
}

/** Cells are the scripts that can be stepped through; all else is passed over. */
const allButCells = ["^(?!cell-\\d+$)"];
const thread = { id: 1, name: "Cells" };
const capabilities = {
  supportsConfigurationDoneRequest: true,
  supportsConditionalBreakpoints: true,
  supportsTerminateRequest: true,
  supportsEvaluateForHovers: true,
};

interface Started {
  readonly inspector: MainInspector;
  readonly values: DebugValues;
  paused: Paused | null;
  skips: boolean;
}

type Answered = (given: DebugRequest["arguments"]) => Content | Promise<Content>;

/**
 * Answers `debug_request` in the thread with the sockets, over V8's inspector of the main thread, which
 * may be paused. Source: Jupyter client documentation, "Debug request"; Debug Adapter Protocol 1.51.
 */
export class Debugger {
  readonly #options: DebuggerOptions;
  readonly #cells = new DebuggedCells();
  readonly #breakpoints = new Breakpoints(this.#cells);
  #started: Started | null = null;
  #attached: (() => void) | null = null;
  #seq = 0;

  constructor(options: DebuggerOptions) {
    this.#options = options;
  }

  /** The response to a request; one that cannot be answered is refused in words. */
  async request(content: Content): Promise<Content> {
    const { seq, command, arguments: given } = content as unknown as DebugRequest;
    const answered = Object.hasOwn(this.#commands, command) ? this.#commands[command] : undefined;
    const response = { type: "response", seq: this.#next(), request_seq: seq, command };
    if (answered === undefined) {
      return { ...response, success: false, message: `${command} is not supported`, body: {} };
    }
    try {
      return { ...response, success: true, body: await answered(given ?? {}) };
    } catch (error) {
      return { ...response, success: false, message: (error as Error).message, body: {} };
    }
  }

  /** Cells that have run, or one that is about to. */
  async take(message: DebugFromMain): Promise<void> {
    if (message.kind === "cells") {
      for (const cell of message.cells) this.#cells.add(cell);
      this.#attached?.();
      return;
    }
    const { name } = message.cell;
    this.#cells.add(message.cell);
    const started = this.#started;
    if (started !== null) {
      await this.#skip(started, false);
      await this.#breakpoints.prepare(name, started.inspector).catch(() => undefined);
    }
    this.#options.post({ kind: "cellReady", name });
  }

  /** Lets a paused cell go on, past all breakpoints, so that it can be interrupted. */
  async release(): Promise<void> {
    const started = this.#started;
    if (started === null) return;
    await this.#skip(started, true);
    if (started.paused !== null) await started.inspector.post("Debugger.resume");
  }

  /** Lets the main thread go. */
  close(): void {
    this.#started?.inspector.close();
    this.#started = null;
    this.#breakpoints.forget();
  }

  readonly #commands: Readonly<Record<string, Answered>> = {
    debugInfo: () => ({
      isStarted: this.#started !== null,
      ...sourcePaths,
      breakpoints: this.#breakpoints.all,
      stoppedThreads: this.#started?.paused ? [thread.id] : [],
      richRendering: false,
      exceptionPaths: [],
      copyToGlobals: false,
    }),
    initialize: async () => {
      if (this.#started === null) await this.#start();
      this.#event("initialized", {});
      return capabilities;
    },
    attach: () => ({}),
    configurationDone: () => ({}),
    dumpCell: ({ code }) => ({ sourcePath: this.#cells.dump(String(code)) }),
    setBreakpoints: (given) => this.#setBreakpoints(given),
    setExceptionBreakpoints: () => ({ breakpoints: [] }),
    source: ({ source }) => {
      const { path = "" } = (source ?? {}) as { readonly path?: string };
      const content = this.#cells.sourceAt(path);
      if (content === null) throw new Error(`no cell has the source ${path}`);
      return { content, mimeType: "text/typescript" };
    },
    threads: () => ({ threads: [thread] }),
    stackTrace: () => {
      const stackFrames = this.#held.frames();
      return { stackFrames, totalFrames: stackFrames.length };
    },
    scopes: ({ frameId }) => ({
      scopes: this.#held.scopes(Number(frameId), this.#debugged.values),
    }),
    variables: async ({ variablesReference }) => ({
      variables: await this.#debugged.values.parts(Number(variablesReference)),
    }),
    inspectVariables: async () => {
      const { inspector, values } = this.#debugged;
      return { variables: await globalVariables(inspector, values) };
    },
    evaluate: (given) => this.#evaluate(given),
    continue: () => this.#go("Debugger.resume", { allThreadsContinued: true }),
    next: () => this.#go("Debugger.stepOver"),
    stepIn: () => this.#go("Debugger.stepInto"),
    stepOut: () => this.#go("Debugger.stepOut"),
    pause: async () => {
      await this.#debugged.inspector.post("Debugger.pause");
      return {};
    },
    disconnect: () => this.#stop(),
    terminate: () => this.#stop(),
  };

  get #debugged(): Started {
    if (this.#started === null) throw new Error("the debugger is not started");
    return this.#started;
  }

  get #held(): Paused {
    const { paused } = this.#debugged;
    if (paused === null) throw new Error("no cell is paused");
    return paused;
  }

  async #start(): Promise<void> {
    const inspector = new MainInspector();
    const values = new DebugValues(inspector);
    const started: Started = { inspector, values, paused: null, skips: false };
    this.#started = started;
    inspector.on("Debugger.paused", (pause: V8Debugger.PausedEventDataType) => {
      void this.#paused(started, pause);
    });
    inspector.on("Debugger.resumed", () => this.#resumed(started));
    inspector.on("Debugger.scriptParsed", (script: V8Debugger.ScriptParsedEventDataType) => {
      this.#cells.parsed(script.scriptId, script.url);
    });
    await inspector.post("Debugger.enable");
    await inspector.post("Debugger.setBlackboxPatterns", {
      patterns: allButCells,
      skipAnonymous: true,
    });
    const attached = new Promise<void>((resolve) => {
      this.#attached = resolve;
    });
    this.#options.post({ kind: "debug", isOn: true });
    await attached;
    for (const { source, breakpoints } of this.#breakpoints.all) {
      await this.#breakpoints.replace(source, breakpoints, inspector);
    }
  }

  #stop(): Content {
    this.#options.post({ kind: "debug", isOn: false });
    this.close();
    this.#event("terminated", {});
    return {};
  }

  async #setBreakpoints({ source, breakpoints }: DebugRequest["arguments"]): Promise<Content> {
    const { path } = source as { readonly path: string };
    const wanted = (breakpoints ?? []) as readonly WantedBreakpoint[];
    await this.#breakpoints.replace(path, wanted, this.#debugged.inspector);
    const set = wanted.map(({ line }, at) => ({ id: at, verified: true, line, source: { path } }));
    return { breakpoints: set };
  }

  async #evaluate({ expression, frameId }: DebugRequest["arguments"]): Promise<Content> {
    const { inspector, values, paused } = this.#debugged;
    const text = String(expression);
    const { result, exceptionDetails } =
      paused !== null
        ? await paused.evaluate(inspector, paused.frameOr(frameId), text)
        : await evaluated(inspector, text);
    if (exceptionDetails !== undefined) {
      throw new Error(exceptionDetails.exception?.description ?? exceptionDetails.text);
    }
    const { value, variablesReference } = values.variable("", result);
    return { result: value, type: result.subtype ?? result.type, variablesReference };
  }

  async #go(method: string, body: Content = {}): Promise<Content> {
    if (this.#held !== null) await this.#debugged.inspector.post(method);
    return body;
  }

  async #skip(started: Started, skip: boolean): Promise<void> {
    if (started.skips === skip) return;
    started.skips = skip;
    await started.inspector.post("Debugger.setSkipAllPauses", { skip });
  }

  // Outside of cells there is nothing to be looked at: on to the next cell.
  async #paused(started: Started, pause: V8Debugger.PausedEventDataType): Promise<void> {
    const paused = new Paused(pause.callFrames, this.#cells);
    if (started !== this.#started) return;
    if (paused.frames().length === 0) {
      await started.inspector.post("Debugger.resume");
      return;
    }
    started.paused = paused;
    const isBreakpoint = (pause.hitBreakpoints ?? []).length > 0;
    const reason = isBreakpoint ? "breakpoint" : "step";
    this.#event("stopped", { reason, threadId: thread.id, allThreadsStopped: true });
  }

  #resumed(started: Started): void {
    if (started.paused === null) return;
    started.paused = null;
    started.values.clear();
    this.#event("continued", { threadId: thread.id, allThreadsContinued: true });
  }

  #event(event: string, body: Content): void {
    this.#options.event({ type: "event", seq: this.#next(), event, body });
  }

  #next(): number {
    this.#seq += 1;
    return this.#seq;
  }
}
