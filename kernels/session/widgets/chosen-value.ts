import { AsyncLocalStorage } from "node:async_hooks";
import type { DisplayHandle } from "../show/display.js";
import type { MimeBundle } from "../show/outputs.js";

/** A value that whoever reads the notebook can change where it is open. */
export interface Widget<Value> {
  /** As declared, until it is changed. */
  readonly value: Value;
  /** The next value that is chosen; where nobody can choose, the one that is there. */
  next(): Promise<Value>;
  /** Calls the function with each new value; gives the function that ends it. */
  onChange(listener: (value: Value) => unknown): () => void;
}

export interface ChosenParts<Value> {
  readonly declared: Value;
  /** What shows it: `isDeclared` is false once it has been changed. */
  readonly bundle: (value: Value, isDeclared: boolean) => MimeBundle;
  readonly display: (...values: unknown[]) => DisplayHandle;
  /** Told when another value was chosen. */
  readonly chosen: (widget: object) => void;
  /** Number of the cell's execution that runs. */
  readonly execution: () => number;
}

type Within = <Result>(work: () => Result) => Result;

/** The value of one widget, and what waits for it. */
export class ChosenValue<Value> {
  readonly #parts: ChosenParts<Value>;
  readonly #handles: DisplayHandle[] = [];
  readonly #listeners = new Map<symbol, (value: Value) => void>();
  readonly #within = AsyncLocalStorage.snapshot() as Within;
  #waiting: ((value: Value) => void)[] = [];
  #isLive = false;
  /** A plain object: whoever compares values before and after sees that it has changed. */
  readonly widget: { value: Value } & Widget<Value>;

  constructor(parts: ChosenParts<Value>) {
    this.#parts = parts;
    const madeIn = parts.execution();
    this.widget = {
      value: parts.declared,
      next: () => this.#next(),
      onChange: (listener) => this.#onChange(listener),
    };
    // It has shown itself where it was made; in a later cell it does so again.
    const show = () => {
      if (parts.execution() !== madeIn) this.show();
      return [];
    };
    Object.defineProperty(this.widget, Symbol.for("banquette.displays"), { value: show });
  }

  show(): void {
    this.#handles.push(this.#parts.display(this.#bundle()));
  }

  /** Somebody may change it from now on, until `close`. */
  open(): void {
    this.#isLive = true;
  }

  close(): void {
    this.#isLive = false;
    this.#settle();
  }

  /** Takes a new value; its static text says from now on that it was changed. */
  change(value: Value): void {
    if (Object.is(value, this.widget.value)) return;
    this.widget.value = value;
    this.#parts.chosen(this.widget);
    this.#within(() => {
      for (const handle of this.#handles) handle.update(this.#bundle());
    });
    this.#settle();
    for (const listener of [...this.#listeners.values()]) listener(value);
  }

  #bundle(): MimeBundle {
    const { value } = this.widget;
    return this.#parts.bundle(value, Object.is(value, this.#parts.declared));
  }

  #settle(): void {
    const waiting = this.#waiting;
    this.#waiting = [];
    for (const resolve of waiting) resolve(this.widget.value);
  }

  #next(): Promise<Value> {
    if (!this.#isLive) return Promise.resolve(this.widget.value);
    return new Promise((resolve) => this.#waiting.push(resolve));
  }

  // What it shows belongs to the cell that set it up; what it throws is told there.
  #onChange(listener: (value: Value) => unknown): () => void {
    const key = Symbol("listener");
    const within = AsyncLocalStorage.snapshot() as Within;
    this.#listeners.set(key, (value) => {
      void within(() => Promise.resolve(value).then(listener));
    });
    return () => void this.#listeners.delete(key);
  }
}
