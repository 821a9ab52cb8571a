import { randomUUID } from "node:crypto";
import { bundlesNow, bundlesOf } from "./bundles.js";
import type { Pending } from "./output-queue.js";
import { type MimeBundle, namedDisplay, updateOutput } from "./outputs.js";
import type { ShownRecords } from "./shown-records.js";

/** What `display` returns: the way to show something else in the same place. */
export interface DisplayHandle {
  readonly id: string;
  /** Shows these values where the first ones stand, one for one. */
  update(...values: unknown[]): void;
}

/** Where the outputs go. */
export interface DisplayTarget {
  add(pending: Pending): void;
  /** A function that tells later whether what is asked for now is still wanted. */
  wanted(): () => boolean;
}

/** Makes `display` for the outputs that `target` takes. */
export function createDisplay(target: DisplayTarget, records: ShownRecords) {
  const session = randomUUID().slice(0, 8);
  let count = 0;
  return (...values: unknown[]): DisplayHandle => {
    count += 1;
    const id = `banquette-${session}-${count}`;
    const send = (shown: readonly unknown[], make: typeof namedDisplay | typeof updateOutput) => {
      for (const [at, value] of shown.entries()) {
        const name = at === 0 ? id : `${id}-${at}`;
        const named = (bundles: readonly MimeBundle[]) =>
          bundles.map((bundle, nth) => make(bundle, nth === 0 ? name : `${name}.${nth}`));
        const now = bundlesNow(value);
        target.add(
          now === null ? bundlesOf(value, records, target.wanted()).then(named) : named(now),
        );
      }
    };
    send(values, namedDisplay);
    return unseen({ id, update: (...next) => send(next, updateOutput) });
  };
}

// A handle that stands last in a cell is not a result to show.
function unseen(handle: DisplayHandle): DisplayHandle {
  const shown = { value: () => [], enumerable: false };
  return Object.defineProperty(handle, Symbol.for("banquette.displays"), shown);
}
