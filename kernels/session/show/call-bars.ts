import type { Progress } from "./progress.js";

/** Where a session sets who is told how far a long call of the library is. */
export const callListener = Symbol.for("banquette.progress");

/** Told the name of a long call and how much of how much is done. */
export type CallListener = (what: string, done: number, total: number) => void;

/** A call that is over sooner needs no bar, ms. */
const patience_ms = 1000;

/** A listener that draws a bar of each call that takes over a second, `now` in ms. */
export function callBars(progress: Progress, now: () => number): CallListener {
  let call = begun("", 0);
  return (what, done, total) => {
    if (what !== call.what || done < call.done) call = begun(what, now());
    call.done = done;
    const isLong = now() - call.since >= patience_ms && done < total;
    if (call.draw === null && isLong) call.draw = progress(what);
    call.draw?.(done, total);
  };
}

interface Call {
  readonly what: string;
  readonly since: number;
  done: number;
  draw: ReturnType<Progress> | null;
}

const begun = (what: string, since: number): Call => ({ what, since, done: 0, draw: null });
