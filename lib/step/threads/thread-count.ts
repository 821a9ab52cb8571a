import { availableParallelism } from "node:os";
import { env } from "node:process";

/** Environment variable that holds the number of threads for long work; 1 for none beside the first. */
export const THREADS_VARIABLE = "BANQUETTE_THREADS";

/** Threads that long work is shared out over: as many as there are cores, unless the user says so. */
export function threadCount(): number {
  const said = Number(env[THREADS_VARIABLE]);
  return Number.isInteger(said) && said >= 1 ? said : availableParallelism();
}
