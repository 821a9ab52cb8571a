/** One line of the bench table. */
export interface BenchRow {
  readonly what: string;
  /** NaN where the reference is not there. */
  readonly microseconds: number;
}

/** The median time of a call over nine batches, after a warm-up; each batch takes 20 ms or more. */
export function timed(what: string, call: () => unknown): BenchRow {
  let repeats = 1;
  while (batch(call, repeats) < 20) repeats *= 2;
  const times = Array.from({ length: 9 }, () => batch(call, repeats)).sort((a, b) => a - b);
  return { what, microseconds: (1000 * times[4]!) / repeats };
}

function batch(call: () => unknown, repeats: number): number {
  const start = performance.now();
  for (let i = 0; i < repeats; i++) call();
  return performance.now() - start;
}

/** The median time of a few runs of long work, without a warm-up. */
export async function timedLong(what: string, work: () => unknown, runs = 3): Promise<BenchRow> {
  const times: number[] = [];
  for (let run = 0; run < runs; run++) {
    const start = performance.now();
    await work();
    times.push(performance.now() - start);
  }
  times.sort((a, b) => a - b);
  return { what, microseconds: 1000 * times[Math.floor(runs / 2)]! };
}
