import { setImmediate as breathe } from "node:timers/promises";
import { valueAt } from "../../numerics/arrays.js";
import type { Random } from "../../numerics/random.js";
import type { LineReadings } from "../data/line-readings.js";
import { EarthSource } from "../prior/earth-source.js";
import { KIND_SHARES } from "../prior/kinds.js";
import { reachable } from "../prior/reachable.js";
import { type TriedEarths, triedEarths } from "../prior/tried-earths.js";
import { hyperparametersOf, type LineEnsemble } from "./hyperparameters.js";
import { responseStore } from "./response-store.js";

/** Members of the two rounds: a first look, and those of the kinds that it found. */
const ROUNDS = [4000, 8000] as const;
/** Share of the second round that keeps to the shares before the data. */
const DEFENSIVE = 0.2;
/** Two rounds of members: the second of the kinds that the first found likely. */
export async function foundEnsemble(
  readings: LineReadings,
  seed: number,
  random: Random,
): Promise<LineEnsemble> {
  const source = new EarthSource(seed);
  const store = responseStore(readings, seed);
  const within = reachable(readings);
  const [few, many] = ROUNDS;
  const first = triedEarths({ count: few, shares: KIND_SHARES, reachable: within, source });
  const rough = hyperparametersOf(first, { readings, store, random, kinds: null });
  await breathe();
  const shares = rough.found.kinds.map(
    (share, at) => (1 - DEFENSIVE) * share + DEFENSIVE * valueAt(KIND_SHARES, at),
  );
  const second = triedEarths({ count: many, shares, reachable: within, source });
  const { kinds } = rough.found;
  return hyperparametersOf(joined(first, second), { readings, store, random, kinds });
}

function joined(one: TriedEarths, other: TriedEarths): TriedEarths {
  return {
    earths: [...one.earths, ...other.earths],
    tried: one.tried.map((count, at) => count + valueAt(other.tried, at)),
  };
}
