import { itemAt } from "../../numerics/arrays.js";
import { Remembered } from "../../numerics/functions/remembered.js";
import { type Random, seededRandom } from "../../numerics/random.js";
import type { LayeredEarth } from "./earth-ensemble.js";
import { earthOfKind } from "./earth-of-kind.js";
import { KINDS } from "./kinds.js";

/** Earths of a kind that are kept: about as many as a line asks for of the kind it holds likeliest. */
const KEPT = 1024;

/** A seed's row of earths of one kind: the first are made once, for every line and option. */
class EarthRow {
  private readonly kept: LayeredEarth[] = [];
  private readonly random: Random;

  constructor(
    private readonly kind: number,
    private readonly seed: number,
  ) {
    this.random = seededRandom(seed);
  }

  /** The earth of a number among those that are kept. */
  at(number: number): LayeredEarth {
    while (this.kept.length <= number) this.kept.push(this.made(this.kept.length, this.random));
    return itemAt(this.kept, number);
  }

  /** The earths after those that are kept, one after another. */
  *beyond(): Generator<LayeredEarth, never> {
    const random = seededRandom(this.seed);
    for (let number = 0; ; number++) {
      const earth = this.made(number, random);
      if (number >= KEPT) yield earth;
    }
  }

  private made(number: number, random: Random): LayeredEarth {
    return { ...earthOfKind(this.kind, random), number };
  }
}

/** Rows of the last seeds: an ensemble's, and that of the columns before any reading. */
const rows = new Remembered<readonly EarthRow[]>(2);

function rowsOf(seed: number): readonly EarthRow[] {
  const random = seededRandom(seed);
  return KINDS.map((_, kind) => new EarthRow(kind, random.uniform()));
}

/**
 * Earths of each kind, one after another: for a seed every kind has one row of them, in whatever
 * order kinds are asked for, so that an earth is known by its kind and its number in the row.
 */
export class EarthSource {
  private readonly rows: readonly EarthRow[];
  private readonly given = new Uint32Array(KINDS.length);
  private readonly later = new Map<number, Generator<LayeredEarth, never>>();

  constructor(seed: number) {
    this.rows = rows.get(String(seed), () => rowsOf(seed));
  }

  next(kind: number): LayeredEarth {
    const number = this.given[kind]!++;
    const row = itemAt(this.rows, kind);
    if (number < KEPT) return row.at(number);
    const later = this.later.get(kind) ?? row.beyond();
    this.later.set(kind, later);
    return later.next().value;
  }
}
