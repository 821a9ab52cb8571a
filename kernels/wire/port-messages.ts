import type { DebugFromMain, DebugToMain } from "./debug/debug-messages.js";
import type { Content, Header, Message, Outgoing } from "./messages.js";

/** What the thread with the sockets is started with. */
export interface ThreadData {
  readonly connectionFile: string;
  /** `kernel_info_reply`, which the thread sends itself. */
  readonly info: Content;
  /** One number, 1 while the main thread does what must not be cut off in the middle. */
  readonly shielded: Int32Array;
  /** One number, of the messages to be published that are on their way. */
  readonly unsent: Int32Array;
}

/** Of a request that the thread with the sockets may answer itself. */
export interface Beside {
  /**
   * One number, set to 1 by the thread that answers: where the main one computes, or still starts,
   * the other may. Null for what only the main one answers.
   */
  readonly claim: Int32Array | null;
}

/** From the sockets to the main thread. */
export type ToMain =
  | ({ readonly kind: "request"; readonly number: number; readonly message: Message } & Beside)
  | { readonly kind: "interrupt"; readonly number: number }
  | { readonly kind: "input"; readonly value: string }
  | { readonly kind: "shutdown" }
  | DebugToMain;

/** From the main thread to the sockets. */
export type FromMain =
  | { readonly kind: "publish"; readonly message: Outgoing }
  | ({ readonly kind: "done"; readonly number: number } & Answer)
  | { readonly kind: "interrupted"; readonly number: number }
  | { readonly kind: "ask"; readonly parent: Header; readonly content: string }
  | DebugFromMain;

/** How a request ended. */
export interface Answer {
  /** Null for messages that have no reply. */
  readonly reply: { readonly type: string; readonly content: string } | null;
  /** True where the executions that wait behind this one are to be aborted. */
  readonly abortsFollowing: boolean;
}
