import type { Origin } from "./origin.js";
import type { FromMain } from "./port-messages.js";

/** Thrown where nobody can be asked. */
export class InputNotPossible extends Error {
  override readonly name = "InputNotPossible";
}

export interface PromptOptions {
  /** What is typed stays hidden. Default false. */
  readonly password?: boolean;
}

interface Waiting {
  readonly answer: (value: string) => void;
  readonly fail: (error: Error) => void;
}

/** Asks the user of the front end from which the running cell came. */
export class Asking {
  readonly #post: (message: FromMain) => void;
  readonly #origin: () => Origin | undefined;
  #running: Origin | null = null;
  #waiting: Waiting | null = null;

  constructor(post: (message: FromMain) => void, origin: () => Origin | undefined) {
    this.#post = post;
    this.#origin = origin;
  }

  /** The cell that may ask; null when no cell runs. */
  running(origin: Origin | null): void {
    this.#running = origin;
    if (origin === null) this.#end(new InputNotPossible("the cell that asked is over"));
  }

  /** The cells' `prompt`. */
  prompt = async (text = "", options: PromptOptions = {}): Promise<string> => {
    const origin = this.#origin();
    if (origin?.allowsInput !== true) {
      throw new InputNotPossible("prompt: this front end does not take questions (allow_stdin)");
    }
    if (origin !== this.#running) {
      throw new InputNotPossible("prompt: only the cell that runs can ask");
    }
    if (this.#waiting !== null) throw new InputNotPossible("prompt: one question at a time");
    const value = new Promise<string>((answer, fail) => {
      this.#waiting = { answer, fail };
    });
    const content = JSON.stringify({ prompt: String(text), password: options.password === true });
    this.#post({ kind: "ask", parent: origin.parent, content });
    return await value;
  };

  answered(value: string): void {
    const waiting = this.#waiting;
    this.#waiting = null;
    waiting?.answer(value);
  }

  interrupt(): void {
    this.#end(new InputNotPossible("the question was interrupted"));
  }

  #end(error: Error): void {
    const waiting = this.#waiting;
    this.#waiting = null;
    waiting?.fail(error);
  }
}
