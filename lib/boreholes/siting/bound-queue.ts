/**
 * Candidates by what they gain at the most, the greatest first and of equal ones the first. Those
 * that gain nothing are not in it. A binary heap. Source: Williams 1964, Algorithm 232.
 */
export class BoundQueue {
  private readonly heap: number[];

  constructor(private readonly bound: Float64Array) {
    const gaining = [...bound.keys()].filter((candidate) => bound[candidate]! > 0);
    this.heap = gaining.sort((one, other) => (this.isBefore(one, other) ? -1 : 1));
  }

  get isEmpty(): boolean {
    return this.heap.length === 0;
  }

  /** The first candidate's bound; 0 where there is none. */
  get most(): number {
    return this.isEmpty ? 0 : this.boundOf(this.heap[0]!);
  }

  boundOf(candidate: number): number {
    return this.bound[candidate]!;
  }

  /** Takes the first candidate out; there must be one. */
  take(): number {
    const first = this.heap[0]!;
    const last = this.heap.pop()!;
    if (!this.isEmpty) this.sink(last);
    return first;
  }

  /** True where a candidate that was taken out would be first with this bound. */
  wouldBeFirst(candidate: number, bound: number): boolean {
    if (!(bound > 0)) return false;
    this.bound[candidate] = bound;
    return this.isEmpty || this.isBefore(candidate, this.heap[0]!);
  }

  /** Puts a candidate that was taken out back, with a lower bound. */
  put(candidate: number, bound: number): void {
    this.bound[candidate] = bound;
    if (!(bound > 0)) return;
    let at = this.heap.length;
    while (at > 0) {
      const above = (at - 1) >> 1;
      if (!this.isBefore(candidate, this.heap[above]!)) break;
      this.heap[at] = this.heap[above]!;
      at = above;
    }
    this.heap[at] = candidate;
  }

  private sink(candidate: number): void {
    const { heap } = this;
    let at = 0;
    for (;;) {
      let below = 2 * at + 1;
      if (below >= heap.length) break;
      if (below + 1 < heap.length && this.isBefore(heap[below + 1]!, heap[below]!)) below++;
      if (!this.isBefore(heap[below]!, candidate)) break;
      heap[at] = heap[below]!;
      at = below;
    }
    heap[at] = candidate;
  }

  private isBefore(one: number, other: number): boolean {
    const [a, b] = [this.boundOf(one), this.boundOf(other)];
    return a > b || (a === b && one < other);
  }
}
