import { itemAt } from "../../numerics/arrays.js";
import { type Random, seededRandom } from "../../numerics/random.js";
import type { LayeredEarth } from "./earth-ensemble.js";
import { earthOfKind } from "./earth-of-kind.js";
import { KINDS } from "./kinds.js";

/**
 * Earths of each kind, one after another: for a seed every kind has one row of them, in whatever
 * order kinds are asked for, so that an earth is known by its kind and its number in the row.
 */
export class EarthSource {
  private readonly rows: readonly Random[];
  private readonly given = new Uint32Array(KINDS.length);

  constructor(seed: number) {
    const random = seededRandom(seed);
    this.rows = KINDS.map(() => seededRandom(random.uniform()));
  }

  next(kind: number): LayeredEarth {
    const number = this.given[kind]!++;
    return { ...earthOfKind(kind, itemAt(this.rows, kind)), number };
  }
}
