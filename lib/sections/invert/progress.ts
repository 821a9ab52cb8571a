import { setImmediate as turn } from "node:timers/promises";

/** Parts of the work done, over a guess of all of it, and turns for the event loop. */
export class Progress {
  private done = 0;

  constructor(
    private readonly expected: number,
    private readonly report: ((done: number, total: number) => void) | null,
  ) {}

  /** After one part more. */
  async part(): Promise<void> {
    this.done = Math.min(this.done + 1, this.expected - 1);
    this.report?.(this.done, this.expected);
    await turn();
  }

  end(): void {
    this.report?.(this.expected, this.expected);
  }
}
