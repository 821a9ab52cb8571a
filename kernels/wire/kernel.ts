import { Session } from "../session/session.js";
import { WidgetModels } from "../session/widgets/widget-models.js";
import { Asking } from "./asking.js";
import { BackPressure } from "./back-pressure.js";
import { codePointCount, utf16Index } from "./code-points.js";
import { CommRegistry } from "./comms.js";
import { DebuggedMain } from "./debug/debugged-main.js";
import { Executor } from "./executor.js";
import { History } from "./history.js";
import type { Content, Message, Outgoing } from "./messages.js";
import { type Origin, outputMessage } from "./origin.js";
import type { Answer, FromMain, ToMain } from "./port-messages.js";
import { refuseExit } from "./refused-exit.js";
import { allowTermination } from "./signals.js";
import { offerTermination } from "./termination.js";

export interface KernelOptions {
  /** Folder of the notebook. */
  readonly folder: string;
  /** Set to 1 while the kernel does what must not be cut off in the middle. */
  readonly shielded: Int32Array;
  readonly unsent: Int32Array;
  readonly post: (message: FromMain) => void;
}

/** The comm by which a front end that was loaded again asks for all widgets. */
const widgetControl = "jupyter.widget.control";
/** Time for the other thread to let go of this one, ms. */
const exitDelay_ms = 20;

type Request = ToMain & { readonly kind: "request" };
type Handler = (message: Message) => Promise<Answer> | Answer;

/**
 * Answers the shell's requests with a session. Those of the shell itself, and of each subshell, come one
 * at a time.
 */
export class Kernel {
  readonly #options: KernelOptions;
  readonly #session: Session;
  readonly #history = new History();
  readonly #asking: Asking;
  readonly #comms: CommRegistry;
  readonly #executor: Executor;
  /** Those of subshells, by their ids. */
  readonly #others = new Map<string, Executor>();
  readonly #exit = refuseExit();
  readonly #pressure: BackPressure;
  readonly #debugged: DebuggedMain;
  readonly #handlers: Readonly<Record<string, Handler>> = {
    execute_request: (message) => this.#executorFor(message).execute(message),
    complete_request: ({ content }) => this.#complete(content),
    inspect_request: ({ content }) => this.#inspect(content),
    is_complete_request: ({ content }) =>
      replyOf("is_complete_reply", this.#session.isComplete(text(content.code))),
    history_request: ({ content }) =>
      replyOf("history_reply", { status: "ok", history: this.#history.rows(content) }),
    comm_info_request: ({ content }) =>
      replyOf("comm_info_reply", { status: "ok", comms: this.#comms.open(content.target_name) }),
    comm_open: (message) => this.#comm(message),
    comm_msg: (message) => this.#comm(message),
    comm_close: (message) => this.#comm(message),
  };

  constructor(options: KernelOptions) {
    this.#options = options;
    this.#debugged = new DebuggedMain(options.post);
    this.#pressure = new BackPressure(options.unsent);
    const shield = <Value>(work: () => Value) => this.#shield(work);
    const publish = (message: Outgoing) => this.#publish(message);
    const origin = () => this.#session.origin() as Origin | undefined;
    this.#asking = new Asking(options.post, origin);
    this.#comms = new CommRegistry(publish, origin);
    this.#session = new Session({
      folder: options.folder,
      shield,
      installs: true,
      widgets: this.#widgets(),
      beforeCell: (cell) => this.#debugged.before(cell),
      globals: { prompt: this.#asking.prompt, comms: this.#comms.face },
      onOutput: (output, from) => {
        const message = outputMessage(output, from as Origin | undefined);
        if (message !== null) publish(message);
      },
    });
    this.#executor = this.#newExecutor(this.#asking);
  }

  // Who is asked, is asked by the cell of the shell itself.
  #newExecutor(asking: Asking | null): Executor {
    const publish = (message: Outgoing) => this.#publish(message);
    return new Executor({ session: this.#session, history: this.#history, asking, publish });
  }

  #executorFor({ header: { subshell_id: id } }: Message): Executor {
    if (typeof id !== "string") return this.#executor;
    const executor = this.#others.get(id) ?? this.#newExecutor(null);
    this.#others.set(id, executor);
    return executor;
  }

  /** Does before the first cell what would keep it waiting. */
  warmUp(): void {
    offerTermination(this.#options.shielded);
    this.#session.warmUp();
  }

  take(message: ToMain): void {
    if (message.kind === "request") void this.#request(message);
    else if (message.kind === "input") this.#asking.answered(message.value);
    else if (message.kind === "debug") this.#debugged.turn(message.isOn, this.#session.cells());
    else if (message.kind === "cellReady") this.#debugged.ready(message.name);
    else if (message.kind === "shutdown") setTimeout(this.#exit, exitDelay_ms);
    else {
      allowTermination();
      this.#asking.interrupt();
      for (const executor of [this.#executor, ...this.#others.values()]) executor.interrupt();
      this.#options.post({ kind: "interrupted", number: message.number });
    }
  }

  async #request({ number, message, claim }: Request): Promise<void> {
    const { msg_type } = message.header;
    if (claim !== null && Atomics.compareExchange(claim, 0, 0, 1) !== 0) {
      this.#executor.answeredElsewhere(message);
      this.#options.post({ kind: "done", number, reply: null, abortsFollowing: false });
      return;
    }
    const handler = Object.hasOwn(this.#handlers, msg_type) ? this.#handlers[msg_type] : undefined;
    let answer: Answer = { reply: null, abortsFollowing: false };
    try {
      if (handler !== undefined) answer = await handler(message);
    } catch (error) {
      answer = failed(msg_type, error);
    }
    this.#options.post({ kind: "done", number, ...answer });
  }

  // Who cannot be asked, moves no widget either.
  #widgets(): WidgetModels {
    const { open, register } = this.#comms.face;
    const isThere = () => (this.#session.origin() as Origin | undefined)?.allowsInput === true;
    const models = new WidgetModels({ isThere, open });
    register(widgetControl, (comm) => {
      comm.onMessage = ({ data }) => {
        if (data.method !== "request_states") return;
        comm.send({ method: "update_states", states: models.states, buffer_paths: [] });
      };
    });
    return models;
  }

  #complete({ code, cursor_pos }: Content): Answer {
    const source = text(code);
    const at = utf16Index(source, position(cursor_pos, source));
    const { matches, cursorStart, cursorEnd, metadata } = this.#shield(() =>
      this.#session.complete(source, at),
    );
    const types = metadata._jupyter_types_experimental.map((one) => ({
      ...one,
      ...("start" in one && { start: codePointCount(source, Number(one.start)) }),
      ...("end" in one && { end: codePointCount(source, Number(one.end)) }),
    }));
    return replyOf("complete_reply", {
      status: "ok",
      matches,
      cursor_start: codePointCount(source, cursorStart),
      cursor_end: codePointCount(source, cursorEnd),
      metadata: { ...metadata, _jupyter_types_experimental: types },
    });
  }

  #inspect({ code, cursor_pos, detail_level }: Content): Answer {
    const source = text(code);
    const at = utf16Index(source, position(cursor_pos, source));
    const detail = detail_level === 1 ? 1 : 0;
    const { found, data } = this.#shield(() => this.#session.inspect(source, at, detail));
    return replyOf("inspect_reply", { status: "ok", found, data, metadata: {} });
  }

  async #comm(message: Message): Promise<Answer> {
    const origin: Origin = { parent: message.header, silent: false };
    await this.#session.within(origin, () => this.#comms.received(message));
    return { reply: null, abortsFollowing: false };
  }

  #shield<Value>(work: () => Value): Value {
    const before = Atomics.exchange(this.#options.shielded, 0, 1);
    try {
      return work();
    } finally {
      Atomics.store(this.#options.shielded, 0, before);
    }
  }

  #publish(message: Outgoing): void {
    this.#options.post({ kind: "publish", message });
    this.#pressure.sent(message);
  }
}

function replyOf(type: string, content: object): Answer {
  return { reply: { type, content: JSON.stringify(content) }, abortsFollowing: false };
}

// A request that asks for something impossible is answered, too.
function failed(type: string, error: unknown): Answer {
  if (!type.endsWith("_request")) return { reply: null, abortsFollowing: false };
  const { name, message } = error instanceof Error ? error : new Error(String(error));
  const content = { status: "error", ename: name, evalue: message, traceback: [message] };
  return replyOf(type.replace(/_request$/, "_reply"), content);
}

function text(code: unknown): string {
  if (typeof code !== "string") throw new TypeError("code must be a text");
  return code;
}

// Without a position, the end.
function position(given: unknown, source: string): number {
  return typeof given === "number" && given >= 0 ? given : source.length;
}
