/** Thrown into a cell that is interrupted. */
export class Interrupted extends Error {
  override readonly name: string = "Interrupted";

  constructor() {
    super("the cell was interrupted; what it did before stays");
    // The place where the interrupt arrived says nothing about the cell.
    this.stack = `${this.name}: ${this.message}`;
  }
}

/** Time that an interrupted cell has to end by itself, ms. */
const grace_ms = 100;

/** Where long work finds the signal that tells it of an interrupt, to end what it began elsewhere. */
const interruptionSignal = Symbol.for("banquette.interruption");

interface Guard {
  interrupted: boolean;
  /** Aborted by an interrupt. */
  readonly controller: AbortController;
  abandoned: boolean;
  readonly waiting: Set<(error: Interrupted) => void>;
  readonly abandon: () => void;
}

/**
 * Ends waiting cells: every `await` at the top level of a cell passes through here, and fails when
 * the cell is interrupted. Its later awaits fail too, so that what cleans up runs. A cell that does
 * not end then is abandoned: it never comes out of its next await, so it does nothing more by itself.
 * Functions that it called and that still wait cannot be stopped, but for what they do in other
 * threads: the signal at `banquette.interruption` ends it.
 */
export class Interruption {
  readonly #guards = new Map<number, Guard>();

  /** Runs a cell; resolves to its value, or to `Interrupted` where it was abandoned. */
  async guarded<Value>(execution: number, run: () => Promise<Value>): Promise<Value | Interrupted> {
    let end: (error: Interrupted) => void = () => undefined;
    const abandoned = new Promise<Interrupted>((resolve) => {
      end = resolve;
    });
    const abandon = () => {
      guard.abandoned = true;
      end(new Interrupted());
    };
    const controller = new AbortController();
    const state = { interrupted: false, abandoned: false, controller };
    const guard: Guard = { ...state, waiting: new Set(), abandon };
    this.#guards.set(execution, guard);
    Reflect.set(globalThis, interruptionSignal, controller.signal);
    try {
      return await Promise.race([run(), abandoned]);
    } finally {
      if (!guard.interrupted) this.#guards.delete(execution);
      // The signal of the cell that waited meanwhile.
      const other = [...this.#guards.values()].filter((one) => !one.interrupted).at(-1);
      if (other !== undefined) {
        Reflect.set(globalThis, interruptionSignal, other.controller.signal);
      }
    }
  }

  /** Interrupts what runs; false where nothing does. */
  interrupt(): boolean {
    const running = [...this.#guards.values()].filter((guard) => !guard.interrupted);
    for (const guard of running) {
      guard.interrupted = true;
      guard.controller.abort();
      for (const reject of guard.waiting) reject(new Interrupted());
      guard.waiting.clear();
      setTimeout(guard.abandon, grace_ms);
    }
    return running.length > 0;
  }

  /** Aborted when the cell with this number is interrupted; null where it has ended. */
  signal(execution: number): AbortSignal | null {
    return this.#guards.get(execution)?.controller.signal ?? null;
  }

  /** `await value` of the cell with this number. */
  wait = (value: unknown, execution: number): unknown => {
    const guard = this.#guards.get(execution);
    if (guard === undefined) return value;
    if (guard.interrupted) return afterInterrupt(guard);
    return new Promise((resolve, reject) => {
      guard.waiting.add(reject);
      const done = (then: (given: unknown) => void) => (given: unknown) => {
        guard.waiting.delete(reject);
        then(given);
      };
      Promise.resolve(value).then(done(resolve), done(reject));
    });
  };

  /** The iterable of `for await` of the cell with this number. */
  each = (iterable: AnyIterable, execution: number): AsyncIterable<unknown> => ({
    [Symbol.asyncIterator]: () => {
      const inner = iteratorOf(iterable);
      const step = async () =>
        (await this.wait(inner.next(), execution)) as IteratorResult<unknown>;
      const end = async (value?: unknown) =>
        ((await inner.return?.(value)) ?? { done: true, value }) as IteratorResult<unknown>;
      return { next: step, return: end };
    },
  });
}

// Fails a turn later: a cell that catches it and waits again leaves the turn to the timer that
// abandons it.
function afterInterrupt(guard: Guard): Promise<never> {
  return new Promise((_, reject) => {
    setImmediate(() => {
      if (!guard.abandoned) reject(new Interrupted());
    });
  });
}

type AnyIterable = AsyncIterable<unknown> | Iterable<unknown>;

function iteratorOf(iterable: AnyIterable): AsyncIterator<unknown> {
  if (Symbol.asyncIterator in iterable) return iterable[Symbol.asyncIterator]();
  return awaited(iterable);
}

async function* awaited(iterable: Iterable<unknown>): AsyncGenerator<unknown> {
  for (const value of iterable) yield await value;
}
