import { randomUUID } from "node:crypto";

/** Version of Jupyter's messaging protocol that the kernel speaks. */
export const protocolVersion = "5.5";

export type Content = Readonly<Record<string, unknown>>;

/** A message's header. Source: Jupyter client documentation, "Messaging in Jupyter". */
export interface Header {
  readonly msg_id: string;
  readonly msg_type: string;
  readonly session: string;
  readonly username: string;
  /** ISO 8601. */
  readonly date: string;
  readonly version: string;
  /** Of a request to a subshell. */
  readonly subshell_id?: string | null;
}

export interface Message {
  readonly header: Header;
  readonly parent_header: Partial<Header>;
  readonly metadata: Content;
  readonly content: Content;
  readonly buffers: readonly Uint8Array[];
}

/** A message to be sent; its content as JSON text already. */
export interface Outgoing {
  readonly type: string;
  readonly parent: Header | null;
  readonly content: string;
  readonly metadata?: Content;
  readonly buffers?: readonly Uint8Array[];
  /** Default: a new one. */
  readonly header?: Header;
}

/** One kernel process's own session name on the wire. */
export const ownSession = randomUUID();

export function newHeader(type: string): Header {
  return {
    msg_id: randomUUID(),
    msg_type: type,
    session: ownSession,
    username: "kernel",
    date: new Date().toISOString(),
    version: protocolVersion,
  };
}
