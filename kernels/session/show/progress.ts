import type { DisplayHandle } from "./display.js";

export interface ProgressOptions {
  /** Text before the bar. Default: none. */
  readonly label?: string;
  /** Number of items. Default: the iterable's `length` or `size`; without one, no bar but a count. */
  readonly total?: number;
}

/** Where a long task stands, as a bar that is drawn again as it goes on. */
export interface Progress {
  <Item>(items: Iterable<Item> & object, options?: ProgressOptions): Iterable<Item>;
  <Item>(items: AsyncIterable<Item>, options?: ProgressOptions): AsyncIterable<Item>;
  /** For options that take a function of how much is done. */
  (label?: string | ProgressOptions): (done: number, total?: number) => void;
}

/** Time between two drawings at the least, ms. */
const pause_ms = 100;
const barLength = 24;
const shows = Symbol.for("Jupyter.display");

type Display = (...values: unknown[]) => DisplayHandle;

/** Makes `progress` on top of `display`. `now`: a clock in ms. */
export function createProgress(display: Display, now: () => number): Progress {
  const start = (options: ProgressOptions) => new Bar({ display, now, options });
  const progress = (given?: unknown, options: ProgressOptions = {}) => {
    if (isIterable(given))
      return { [Symbol.iterator]: () => each(given, start(sized(given, options))) };
    if (isAsyncIterable(given)) {
      return { [Symbol.asyncIterator]: () => eachLater(given, start(options)) };
    }
    const named = typeof given === "string" ? { label: given } : ((given ?? {}) as ProgressOptions);
    return callback((total) => start(total === undefined ? named : { ...named, total }));
  };
  return progress as Progress;
}

function isIterable(given: unknown): given is Iterable<unknown> {
  return typeof given === "object" && given !== null && Symbol.iterator in given;
}

function isAsyncIterable(given: unknown): given is AsyncIterable<unknown> {
  return typeof given === "object" && given !== null && Symbol.asyncIterator in given;
}

function sized(items: Iterable<unknown>, options: ProgressOptions): ProgressOptions {
  const { length, size } = items as { readonly length?: unknown; readonly size?: unknown };
  const total = options.total ?? length ?? size;
  return typeof total === "number" ? { ...options, total } : options;
}

function* each<Item>(items: Iterable<Item>, bar: Bar): Generator<Item> {
  try {
    for (const item of items) {
      yield item;
      bar.add();
    }
    bar.end();
  } finally {
    bar.stop();
  }
}

async function* eachLater<Item>(items: AsyncIterable<Item>, bar: Bar): AsyncGenerator<Item> {
  try {
    for await (const item of items) {
      yield item;
      bar.add();
    }
    bar.end();
  } finally {
    bar.stop();
  }
}

// A new bar where a task begins again.
function callback(start: (total?: number) => Bar): (done: number, total?: number) => void {
  let bar: Bar | null = null;
  return (done, total) => {
    if (bar === null || done < bar.done) bar = start(total);
    bar.reach(done, total);
  };
}

interface BarParts {
  readonly display: Display;
  readonly now: () => number;
  readonly options: ProgressOptions;
}

class Bar {
  done = 0;
  readonly #parts: BarParts;
  readonly #handle: DisplayHandle;
  #total: number | null;
  #drawnAt: number;
  #drawn = "";

  constructor(parts: BarParts) {
    this.#parts = parts;
    this.#total = parts.options.total ?? null;
    this.#drawnAt = parts.now();
    this.#handle = parts.display(this.#picture());
  }

  add(): void {
    this.reach(this.done + 1);
  }

  reach(done: number, total?: number): void {
    this.done = done;
    if (total !== undefined) this.#total = total;
    const ended = this.#total !== null && done >= this.#total;
    if (ended || this.#parts.now() - this.#drawnAt >= pause_ms) this.#draw();
  }

  /** All items came: their number is the total, whatever was said before. */
  end(): void {
    this.#total = this.done;
  }

  /** Draws the last state, also where the loop was left early. */
  stop(): void {
    this.#draw();
  }

  #draw(): void {
    this.#drawnAt = this.#parts.now();
    const before = this.#drawn;
    const picture = this.#picture();
    if (this.#drawn !== before) this.#handle.update(picture);
  }

  #picture() {
    const bundle = barBundle(this.#parts.options.label ?? "", this.done, this.#total);
    this.#drawn = bundle["text/plain"];
    return { [shows]: () => bundle };
  }
}

/** A bar of so many signs, filled to a share from 0 to 1. */
export function barOf(share: number, length: number): string {
  const filled = Math.floor(share * length);
  return `${"█".repeat(filled)}${"░".repeat(length - filled)}`;
}

function barBundle(label: string, done: number, total: number | null) {
  const count = total === null ? `${done}` : `${done} of ${total}`;
  const part = total === null ? null : total > 0 ? Math.min(1, Math.max(0, done / total)) : 1;
  const bar = part === null ? "" : barOf(part, barLength);
  const text = [label, bar, count].filter((one) => one !== "").join(" ");
  const value = part === null ? "" : ` value="${part}"`;
  const name = escaped(label);
  return {
    "text/plain": text,
    "text/html": `<div>${name} <progress max="1"${value} aria-label="${name}"></progress> ${count}</div>`,
  };
}

function escaped(text: string): string {
  return text.replace(/[&<>"]/g, (character) => `&#${character.charCodeAt(0)};`);
}
