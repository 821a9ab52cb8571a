import type { Session } from "../session/session.js";
import type { CellOutcome } from "../session/session-options.js";
import type { ErrorOutput, SentOutput } from "../session/show/outputs.js";
import type { Asking } from "./asking.js";
import type { History } from "./history.js";
import { interruptedError } from "./interrupted-error.js";
import { jsonText } from "./json-text.js";
import type { Content, Header, Message, Outgoing } from "./messages.js";
import type { Origin } from "./origin.js";
import { nameAskedAbout } from "./pager.js";
import type { Answer } from "./port-messages.js";

export interface ExecutorOptions {
  readonly session: Session;
  readonly history: History;
  /** Null where cells cannot ask. */
  readonly asking: Asking | null;
  readonly publish: (message: Outgoing) => void;
}

/** `execute_request`, checked, with the protocol's defaults. */
interface Request {
  readonly code: string;
  readonly silent: boolean;
  readonly storeHistory: boolean;
  readonly userExpressions: readonly (readonly [name: string, code: string])[];
  readonly allowsInput: boolean;
  readonly stopsOnError: boolean;
  /** The front end's id of the cell, where it gives one. */
  readonly cellId: { readonly cellId?: string };
  /** Ids of cells that are no longer in the notebook. */
  readonly deletedCells: readonly string[];
}

interface Ended {
  readonly outcome: CellOutcome;
  readonly payload: readonly Content[];
}

/** Time that an interrupted request has to end by itself, ms. */
const grace_ms = 300;

/** Executes cells for the front end. */
export class Executor {
  readonly #options: ExecutorOptions;
  #abandon: (() => void) | null = null;

  constructor(options: ExecutorOptions) {
    this.#options = options;
  }

  async execute({ header, content, metadata }: Message): Promise<Answer> {
    const request = readRequest(content, metadata);
    const { session, asking } = this.#options;
    const origin = this.#origin(header, request);
    if (!request.silent) this.#announce(header, request);
    asking?.running(origin);
    try {
      const ended = await this.#abandonable(() => this.#run(request, origin));
      const expressions = ended.outcome.ok
        ? await session.within(origin, () => this.#expressions(request))
        : {};
      return answer(request, ended, expressions);
    } finally {
      asking?.running(null);
    }
  }

  /** Counts a request that the other thread has answered while this one computed. */
  answeredElsewhere({ content, metadata }: Message): void {
    const { code, storeHistory } = readRequest(content, metadata);
    const { session, history } = this.#options;
    if (storeHistory) history.add(session.countOther(), code, null);
  }

  /** Ends what runs; nothing where nothing does. */
  interrupt(): void {
    this.#options.session.interrupt();
    const abandon = this.#abandon;
    if (abandon !== null) setTimeout(abandon, grace_ms);
  }

  #origin(parent: Header, { silent, allowsInput }: Request): Origin & { shown: string | null } {
    const origin = {
      parent,
      silent,
      allowsInput,
      shown: null as string | null,
      seen: (output: SentOutput) => {
        if (output.output_type !== "execute_result") return;
        origin.shown = String(output.data["text/plain"] ?? "");
      },
    };
    return origin;
  }

  #announce(parent: Header, { code, storeHistory }: Request): void {
    const { executionCount } = this.#options.session;
    const execution_count = executionCount + (storeHistory && !isBlank(code) ? 1 : 0);
    const content = JSON.stringify({ code, execution_count });
    this.#options.publish({ type: "execute_input", parent, content });
  }

  async #run(request: Request, origin: Origin & { shown: string | null }): Promise<Ended> {
    const { session, history } = this.#options;
    const { code, silent, cellId } = request;
    session.cellsDeleted(request.deletedCells);
    const name = nameAskedAbout(code);
    const storeHistory = request.storeHistory && !isBlank(code);
    const ended =
      name === null && !isBlank(code)
        ? {
            outcome: await session.execute(code, { silent, storeHistory, origin, ...cellId }),
            payload: [],
          }
        : this.#asked(name, await session.execute("", { silent, storeHistory, origin }));
    if (storeHistory) history.add(ended.outcome.executionCount, code, origin.shown);
    return ended;
  }

  #asked(name: string | null, outcome: CellOutcome): Ended {
    if (name === null) return { outcome, payload: [] };
    const { found, data } = this.#options.session.inspect(name, name.length);
    const shown = found ? data : { "text/plain": `Nothing is known about ${name}.` };
    return { outcome, payload: [{ source: "page", data: shown, start: 0 }] };
  }

  async #expressions({ userExpressions }: Request): Promise<Content> {
    const values: Record<string, unknown> = {};
    for (const [name, code] of userExpressions) {
      const value = await this.#options.session.expression(code);
      values[name] = value.ok
        ? { status: "ok", data: value.data, metadata: {} }
        : { status: "error", ...withoutType(value.error) };
    }
    return values;
  }

  // What a termination cut in two never ends by itself. It runs in a turn of its own, so that only
  // what waits for it here is cut.
  #abandonable(run: () => Promise<Ended>): Promise<Ended> {
    const { session } = this.#options;
    const abandoned = new Promise<Ended>((resolve) => {
      this.#abandon = () => {
        const error: ErrorOutput = { output_type: "error", ...interruptedError };
        const { executionCount } = session;
        resolve({ outcome: { ok: false, executionCount, error }, payload: [] });
      };
    });
    return Promise.race([Promise.resolve().then(run), abandoned]).finally(() => {
      this.#abandon = null;
    });
  }
}

function readRequest(content: Content, metadata: Content): Request {
  const { cellId, deletedCells } = metadata;
  const { code, silent, store_history, user_expressions, allow_stdin, stop_on_error } = content;
  if (typeof code !== "string") throw new TypeError("execute_request: code must be a text");
  const quiet = silent === true;
  return {
    code,
    silent: quiet,
    storeHistory: !quiet && store_history !== false,
    userExpressions: Object.entries(user_expressions ?? {}).map(([name, one]) => [
      name,
      String(one),
    ]),
    allowsInput: allow_stdin !== false,
    stopsOnError: stop_on_error !== false,
    cellId: typeof cellId === "string" ? { cellId } : {},
    deletedCells: Array.isArray(deletedCells) ? deletedCells.map(String) : [],
  };
}

function answer(request: Request, { outcome, payload }: Ended, expressions: Content): Answer {
  const { ok, executionCount, error } = outcome;
  const content = {
    status: ok ? "ok" : "error",
    execution_count: executionCount,
    ...(error && withoutType(error)),
    user_expressions: expressions,
    payload,
  };
  const reply = { type: "execute_reply", content: jsonText(content) };
  return { reply, abortsFollowing: !ok && request.stopsOnError };
}

function withoutType({ output_type: _, ...content }: ErrorOutput): Content {
  return content;
}

function isBlank(code: string): boolean {
  return code.trim() === "";
}
