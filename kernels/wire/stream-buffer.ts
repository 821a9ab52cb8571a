import type { Header, Outgoing } from "./messages.js";

/** Longest time that a text waits for more of its kind, ms. */
const patience_ms = 15;
/** A text of this length does not wait, characters. */
const longText = 64 * 1024;

interface Waiting {
  readonly name: string;
  readonly parent: Header | null;
  readonly texts: string[];
  length: number;
}

/** Joins texts that follow each other on one stream, so that many short ones are few messages. */
export class StreamBuffer {
  readonly #publish: (message: Outgoing) => void;
  #waiting: Waiting | null = null;
  #timer: NodeJS.Timeout | null = null;

  constructor(publish: (message: Outgoing) => void) {
    this.#publish = publish;
  }

  /** Publishes a message after everything that came before it. */
  add(message: Outgoing): void {
    if (message.type === "stream") {
      this.#join(message);
      return;
    }
    this.flush();
    this.#publish(message);
  }

  flush(): void {
    const waiting = this.#waiting;
    this.#waiting = null;
    if (this.#timer !== null) clearTimeout(this.#timer);
    this.#timer = null;
    if (waiting === null) return;
    const content = JSON.stringify({ name: waiting.name, text: waiting.texts.join("") });
    this.#publish({ type: "stream", parent: waiting.parent, content });
  }

  #join(message: Outgoing): void {
    const { name, text } = JSON.parse(message.content) as { name: string; text: string };
    const { parent } = message;
    const same = this.#waiting?.name === name && this.#waiting.parent?.msg_id === parent?.msg_id;
    if (!same) this.flush();
    this.#waiting ??= { name, parent, texts: [], length: 0 };
    this.#waiting.texts.push(text);
    this.#waiting.length += text.length;
    if (this.#waiting.length > longText) this.flush();
    else this.#timer ??= setTimeout(() => this.flush(), patience_ms);
  }
}
