import { passes, vectorKernels } from "../../numerics/wasm/kernels.js";
import { MOST_GROUND } from "../prior/earth-ensemble.js";
import { ChangeRows, changeRoom, type Directions } from "./directions.js";
import type { MemberScreen } from "./member-screen.js";

/** What draws of one station are corrected with, in the kernels' memory. */
export class DrawRoom {
  /** Readings less a member's, over all channels. */
  readonly off: Float64Array;
  /** By the screen's channels: what is left of them over noise, and Aᵀ S⁻¹ A of that. */
  readonly left: Float64Array;
  readonly half: Float64Array;
  /** Shares of directions or channels, and the directions' values. */
  readonly share: Float64Array;
  readonly moved: Float64Array;
  private readonly changes: ChangeRows;
  /** The changes of the screen's channels, and the axes, the other way round. */
  private readonly across: Float64Array;
  private readonly axes: Float64Array;
  private readonly axesAcross: Float64Array;
  private readonly along: Float64Array;
  private readonly solved: Float64Array;
  private readonly r: number;
  /** Lengths of rows by directions, channels of the screen and axes. */
  private readonly wide: { readonly q: number; readonly c: number; readonly r: number };

  constructor(
    directions: Directions,
    private readonly screen: MemberScreen,
  ) {
    const { axes, channels } = screen;
    const c = channels.length;
    const r = axes.length / c;
    const most = MOST_GROUND + directions.walks;
    const wide = { q: passes(most), c: passes(c), r: passes(r) };
    const own = changeRoom(directions);
    const rows = [passes(directions.channels), wide.c, wide.c, Math.max(wide.q, wide.c), wide.q];
    const solving = [c * wide.q, r * wide.c, c * wide.r, wide.r, wide.r];
    const columns = vectorKernels().columns(...own, ...rows, ...solving);
    this.changes = new ChangeRows(directions, [columns[0]!, columns[1]!, columns[2]!]);
    [this.off, this.left, this.half] = [columns[3]!, columns[4]!, columns[5]!];
    [this.share, this.moved, this.across] = [columns[6]!, columns[7]!, columns[8]!];
    [this.axes, this.axesAcross] = [columns[9]!, columns[10]!];
    [this.along, this.solved] = [columns[11]!, columns[12]!];
    [this.r, this.wide] = [r, wide];
    for (let i = 0; i < r; i++) {
      for (let d = 0; d < c; d++) {
        const entry = axes[i * c + d]!;
        this.axes[i * wide.c + d] = entry;
        this.axesAcross[d * wide.r + i] = entry;
      }
    }
  }

  /** Takes the changes of member k; gives the number of its directions. */
  take(k: number): number {
    const { changes, across, wide } = this;
    const q = changes.write(k);
    const { rows, wide: row } = changes;
    for (const [i, d] of this.screen.channels.entries()) {
      for (let j = 0; j < q; j++) across[i * wide.q + j] = rows[j * row + d]!;
    }
    return q;
  }

  /** Adds share × change over so many directions to `off`. */
  lessDirections(q: number): void {
    const { off, share, changes } = this;
    add(off, share, { rows: changes.rows, wide: changes.wide, count: q });
  }

  /** Adds share × change over the screen's channels to `moved`. */
  addDirections(q: number): void {
    const { moved, share, across, wide } = this;
    const count = this.screen.channels.length;
    add(moved, share, { rows: across, wide: wide.q, count, width: q });
  }

  /** half = Aᵀ S⁻¹ A left, by the packed inverse factor; left less what lies along the axes A. */
  solve({ inverse, channels }: MemberScreen, place: number): void {
    const { left, half, along, solved, axes, axesAcross, r, wide } = this;
    along.fill(0);
    add(along, left, { rows: axesAcross, wide: wide.r, count: channels.length });
    solved.fill(0);
    for (let i = 0, at = place * ((r * (r + 1)) / 2); i < r; i++) {
      let sum = 0;
      for (let j = 0; j <= i; j++) sum += inverse[at + j]! * along[j]!;
      for (let j = 0; j <= i; j++) solved[j]! += inverse[at + j]! * sum;
      at += i + 1;
    }
    half.fill(0);
    add(half, solved, { rows: axes, wide: wide.c, count: r });
    for (let i = 0; i < r; i++) along[i] = -along[i]!;
    add(left, along, { rows: axes, wide: wide.c, count: r });
  }
}

interface Rows {
  readonly rows: Float64Array;
  /** From one row to the next. */
  readonly wide: number;
  readonly count: number;
  /** Entries of a row that are wanted; default all. */
  readonly width?: number;
}

/** Adds Σ share × row to one row, in order. */
function add(
  sum: Float64Array,
  share: Float64Array,
  { rows, wide, count, width = wide }: Rows,
): void {
  vectorKernels().run.addMultiples(
    ...[sum.byteOffset, 0, share.byteOffset, 8, 0],
    ...[rows.byteOffset, 8 * wide, count, 1, 8 * width, 0],
  );
}
