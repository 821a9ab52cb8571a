import type { CallProgress } from "./worker-messages.js";

/** Time between two messages at the least, ms. */
const pause_ms = 200;

/** A listener of long calls that hands on the first word of each and then some, `now` in ms. */
export function paced(hand: (progress: CallProgress) => void, now: () => number) {
  let last = { what: "", at: Number.NEGATIVE_INFINITY };
  return (what: string, done: number, total: number): void => {
    if (what === last.what && now() - last.at < pause_ms) return;
    last = { what, at: now() };
    hand({ what, done, total });
  };
}
