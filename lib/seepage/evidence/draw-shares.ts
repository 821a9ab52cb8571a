/** Of n stations, how many draws have a value and how many reach a limit. */
export class DrawShares {
  private readonly known: Int32Array;
  private readonly reached: Int32Array;

  constructor(n: number) {
    this.known = new Int32Array(n);
    this.reached = new Int32Array(n);
  }

  count(i: number, value: number, limit: number): void {
    if (Number.isNaN(value)) return;
    this.known[i]!++;
    if (value >= limit) this.reached[i]!++;
  }

  /** NaN where no draw has a value. */
  shares(): Float64Array {
    const shares = new Float64Array(this.known.length);
    for (let i = 0; i < shares.length; i++) shares[i] = this.reached[i]! / this.known[i]!;
    return shares;
  }
}
