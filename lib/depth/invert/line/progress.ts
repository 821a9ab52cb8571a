import { setImmediate as turn } from "node:timers/promises";
import type { DepthOptions } from "../../options.js";

const CHUNK = 200;

/** Progress in stations over a guess of the sweeps to come, and turns for the event loop. */
export class Progress {
  private sweeps = 0;

  constructor(
    private readonly n: number,
    private readonly report: DepthOptions["progress"],
    private readonly expected: number,
  ) {}

  /** A sweep over `stations`: to be called with each, 0 first. */
  sweep(stations: number): (station: number) => Promise<void> | null {
    const before = this.sweeps;
    this.sweeps += stations / this.n;
    return (station) => (station % CHUNK === 0 ? this.reportAt(before + station / this.n) : null);
  }

  /** After work that takes as long as so many sweeps. */
  after(sweeps: number): Promise<void> {
    this.sweeps += sweeps;
    return this.reportAt(this.sweeps);
  }

  done(): void {
    this.report?.(this.n, this.n);
  }

  private reportAt(sweeps: number): Promise<void> {
    const share = Math.min(0.99, sweeps / this.expected);
    this.report?.(Math.floor(share * this.n), this.n);
    return turn();
  }
}
