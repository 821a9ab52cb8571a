/** What became of some lines: what they are, or why they could not be read. */
export interface TalliedRows {
  readonly what: string;
  readonly count: number;
  /** Such as "12, 40-44": the first ranges. */
  readonly rows: string;
}

/** The account of a raw file's lines; they add up to all of them. */
export interface RowAccount {
  readonly lines: number;
  readonly read: number;
  readonly apart: readonly TalliedRows[];
  readonly notRead: readonly TalliedRows[];
  /** Cells of rows that were read, left blank, by field. */
  readonly blanked: readonly (TalliedRows & { readonly field: string })[];
}

const MOST_RANGES = 200;

/** Rows of one kind, as ranges. */
class Ranges {
  count = 0;
  readonly #ranges: [number, number][] = [];
  #more = 0;

  add(row: number): void {
    this.count += 1;
    const last = this.#ranges.at(-1);
    if (last !== undefined && this.#more === 0 && row === last[1] + 1) last[1] = row;
    else if (this.#ranges.length < MOST_RANGES) this.#ranges.push([row, row]);
    else this.#more += 1;
  }

  get text(): string {
    const shown = this.#ranges.map(([from, to]) => (from === to ? `${from}` : `${from}-${to}`));
    return [...shown, ...(this.#more > 0 ? [`and ${this.#more} more`] : [])].join(", ");
  }
}

/** Counts what becomes of each line of a raw file. */
export class RowTally {
  #read = 0;
  readonly #apart = new Map<string, Ranges>();
  readonly #lost = new Map<string, Ranges>();
  readonly #blanked = new Map<string, Ranges>();

  kept(): void {
    this.#read += 1;
  }

  /** A line that is no row of the table. */
  passed(what: string, row: number): void {
    rangesIn(this.#apart, what).add(row);
  }

  lost(cause: string, row: number): void {
    rangesIn(this.#lost, cause).add(row);
  }

  blanked(field: string, cause: string, row: number): void {
    rangesIn(this.#blanked, `${field}\n${cause}`).add(row);
  }

  done(): RowAccount {
    const apart = listed(this.#apart);
    const notRead = listed(this.#lost);
    const others = [...apart, ...notRead].reduce((sum, { count }) => sum + count, 0);
    const blanked = listed(this.#blanked).map(({ what, ...rest }) => {
      const [field = "", cause = ""] = what.split("\n");
      return { field, what: cause, ...rest };
    });
    return { lines: this.#read + others, read: this.#read, apart, notRead, blanked };
  }
}

function rangesIn(map: Map<string, Ranges>, key: string): Ranges {
  const found = map.get(key) ?? new Ranges();
  map.set(key, found);
  return found;
}

function listed(map: ReadonlyMap<string, Ranges>): readonly TalliedRows[] {
  return [...map].map(([what, { count, text }]) => ({ what, count, rows: text }));
}
