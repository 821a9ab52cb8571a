import { setTimeout as pause } from "node:timers/promises";
import {
  changedFiles,
  type InputState,
  inputStamps,
  inputState,
  type WatchedInputs,
} from "./input-state.js";

/**
 * Time between two looks at the files, ms. Looking works on every file system, telling does not.
 */
const look_ms = 400;

/**
 * Waits until the files hold something else than `known` and nothing was written between two looks;
 * gives the names of those that differ. Rejects when the signal aborts.
 */
export async function nextChange(
  inputs: WatchedInputs,
  known: InputState,
  signal: AbortSignal,
): Promise<readonly string[]> {
  let compared: InputState = new Map();
  let last: InputState = new Map();
  while (true) {
    const stamps = await inputStamps(inputs);
    const isStill = changedFiles(last, stamps).length === 0;
    if (isStill && changedFiles(compared, stamps).length > 0) {
      const names = changedFiles(known, await inputState(inputs));
      if (names.length > 0) return names;
      compared = stamps;
    }
    last = stamps;
    await pause(look_ms, undefined, { signal });
  }
}
