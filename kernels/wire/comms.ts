import { randomUUID } from "node:crypto";
import { jsonText } from "./json-text.js";
import type { Content, Message, Outgoing } from "./messages.js";
import type { Origin } from "./origin.js";

/** What comes over a comm. */
export interface CommMessage {
  readonly data: Content;
  readonly metadata: Content;
  readonly buffers: readonly Uint8Array[];
}

export interface CommSending {
  readonly metadata?: Content;
  readonly buffers?: readonly Uint8Array[];
}

/** One end of an open comm. */
export interface Comm {
  readonly id: string;
  readonly target: string;
  send(data: Content, more?: CommSending): void;
  close(data?: Content): void;
  /** Set to be told what comes. */
  onMessage: ((message: CommMessage) => void | Promise<void>) | null;
  /** Set to be told when the other end closes. */
  onClose: ((message: CommMessage) => void | Promise<void>) | null;
}

/** Called when the front end opens a comm. */
export type CommHandler = (comm: Comm, opening: CommMessage) => void | Promise<void>;

/** The cells' `comms`. */
export interface Comms {
  /** Takes comms that the front end opens under this name; null takes no more. */
  register(target: string, handler: CommHandler | null): void;
  /** Opens a comm to the front end's target of this name. */
  open(target: string, data?: Content, more?: CommSending): Comm;
}

/** Open comms, from either side. Source: Jupyter client documentation, "Custom Messages". */
export class CommRegistry {
  readonly #publish: (message: Outgoing) => void;
  readonly #origin: () => Origin | undefined;
  readonly #handlers = new Map<string, CommHandler>();
  readonly #comms = new Map<string, Comm>();

  constructor(publish: (message: Outgoing) => void, origin: () => Origin | undefined) {
    this.#publish = publish;
    this.#origin = origin;
  }

  readonly face: Comms = {
    register: (target, handler) => {
      if (handler === null) this.#handlers.delete(target);
      else this.#handlers.set(target, handler);
    },
    open: (target, data = {}, more = {}) => {
      const comm = this.#make(randomUUID(), target);
      this.#send("comm_open", { comm_id: comm.id, target_name: target, data }, more);
      return comm;
    },
  };

  /** Open comms as `comm_info_reply` lists them, of one target or of all. */
  open(target: unknown): Record<string, { readonly target_name: string }> {
    const open = [...this.#comms.values()].filter(
      (comm) => typeof target !== "string" || target === "" || comm.target === target,
    );
    return Object.fromEntries(open.map((comm) => [comm.id, { target_name: comm.target }]));
  }

  /** A `comm_open`, `comm_msg` or `comm_close` from the front end. */
  async received({ header, content, metadata, buffers }: Message): Promise<void> {
    const { comm_id } = content;
    if (typeof comm_id !== "string") return;
    const message = { data: (content.data ?? {}) as Content, metadata, buffers };
    if (header.msg_type === "comm_open") {
      await this.#opened(comm_id, String(content.target_name), message);
      return;
    }
    const comm = this.#comms.get(comm_id);
    if (header.msg_type === "comm_msg") {
      await comm?.onMessage?.(message);
      return;
    }
    this.#comms.delete(comm_id);
    await comm?.onClose?.(message);
  }

  // A comm to a target that nobody registered is closed again.
  async #opened(id: string, target: string, opening: CommMessage): Promise<void> {
    const handler = this.#handlers.get(target);
    if (handler === undefined) {
      this.#send("comm_close", { comm_id: id, data: {} }, {});
      return;
    }
    const comm = this.#make(id, target);
    try {
      await handler(comm, opening);
    } catch (error) {
      comm.close();
      throw error;
    }
  }

  #make(id: string, target: string): Comm {
    const comm: Comm = {
      id,
      target,
      send: (data, more = {}) => this.#send("comm_msg", { comm_id: id, data }, more),
      close: (data = {}) => {
        if (this.#comms.delete(id)) this.#send("comm_close", { comm_id: id, data }, {});
      },
      onMessage: null,
      onClose: null,
    };
    this.#comms.set(id, comm);
    return comm;
  }

  #send(type: string, content: Content, { metadata = {}, buffers = [] }: CommSending): void {
    const parent = this.#origin()?.parent ?? null;
    const copies = buffers.map((one) => Uint8Array.from(one));
    this.#publish({ type, parent, content: jsonText(content), metadata, buffers: copies });
  }
}
