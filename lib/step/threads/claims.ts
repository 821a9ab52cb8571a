/** Tasks 0 … n − 1 that several threads take, each task once: one from the front, others from the back. */
export interface Claims {
  readonly count: number;
  /** Claims made, and those from the back, in memory that all share. */
  readonly taken: Int32Array;
}

export function claimsOf(count: number): Claims {
  return { count, taken: new Int32Array(new SharedArrayBuffer(8)) };
}

/** The next task from the back; null where none is left. */
export function claimBack({ count, taken }: Claims): number | null {
  if (Atomics.add(taken, 0, 1) >= count) return null;
  return count - 1 - Atomics.add(taken, 1, 1);
}

/** True where one is left from the front, which is then the caller's. */
export function claimFront({ count, taken }: Claims): boolean {
  return Atomics.add(taken, 0, 1) < count;
}

/** Nothing more is taken. */
export function closeClaims({ count, taken }: Claims): void {
  Atomics.store(taken, 0, count);
}
