import type { GroundChange } from "../ground/columns.js";
import { type Chance, chance } from "../random.js";

/** A body of sand in the bank through which water gets at high levels. */
export interface WeakPlace {
  readonly from_m: number;
  readonly to_m: number;
  readonly top_m: number;
  readonly base_m: number;
  /** Its resistivity over that of the ground it lies in, log10. */
  readonly contrast: number;
}

/** What is weak in a bank, and what only looks so or is not told. */
export interface WeakPlan {
  readonly weak: readonly WeakPlace[];
  /** What the second campaign, at high water, finds wetter or drier. */
  readonly changes: readonly GroundChange[];
  readonly incidents: readonly { readonly chainage_m: number; readonly kind: string }[];
  readonly structures_m: readonly number[];
  readonly metal_m: readonly number[];
}

/** Every fourth bank has none; the others one or two, 15 to 60 m long. */
export function weakPlan(seed: number, length_m: number): WeakPlan {
  const random = chance(seed, "weak");
  const weak = seed % 4 === 0 ? [] : placed(random, length_m);
  return {
    weak,
    changes: [...weak.flatMap((place) => wetted(random, place)), ...harmless(random, length_m)],
    incidents: incidentsOf(random, weak, length_m),
    structures_m: structuresOf(random, weak, length_m),
    metal_m: some(random, 3).map(() => random.between(20, length_m - 20)),
  };
}

function placed(random: Chance, length_m: number): readonly WeakPlace[] {
  const count = length_m > 500 && random.uniform() < 0.4 ? 2 : 1;
  return Array.from({ length: count }, (_, k) => {
    const part = length_m / count;
    const long_m = random.between(15, 60);
    const from_m = k * part + random.between(30, part - 30 - long_m);
    const top_m = random.between(0.8, 1.8);
    const base_m = Math.min(3.6, top_m + random.between(1, 2.4));
    const contrast = random.between(0.35, 0.8);
    return { from_m, to_m: from_m + long_m, top_m, base_m, contrast };
  });
}

/** Three in five are wetter over and beside themselves at high water. */
function wetted(random: Chance, { from_m, to_m, top_m }: WeakPlace): readonly GroundChange[] {
  const [factor, before_m, after_m] = [
    random.between(0.68, 0.85),
    random.between(0, 10),
    random.between(0, 25),
  ];
  if (random.uniform() > 0.6) return [];
  const depths = { top_m: Math.max(0.3, top_m - 0.8), base_m: top_m + 0.6 };
  return [{ from_m: from_m - before_m, to_m: to_m + after_m, ...depths, factor }];
}

/** A stretch that a drain dried or shade kept wet, in a quarter of the banks. */
function harmless(random: Chance, length_m: number): readonly GroundChange[] {
  const from_m = random.between(20, length_m - 80);
  const factor = random.sign() > 0 ? 0.75 : 1.35;
  if (random.uniform() > 0.25) return [];
  return [{ from_m, to_m: from_m + random.between(20, 60), top_m: 0.3, base_m: 1.5, factor }];
}

/** Two in five weak places have shown themselves; others are told of where nothing is. */
function incidentsOf(random: Chance, weak: readonly WeakPlace[], length_m: number) {
  const shown = weak.flatMap(({ from_m, to_m }) => {
    const chainage_m = (from_m + to_m) / 2 + 12 * random.normal();
    return random.uniform() < 0.4 ? [{ chainage_m, kind: "sand boil" }] : [];
  });
  const told = some(random, 1.2).map(() => ({
    chainage_m: random.between(0, length_m),
    kind: random.uniform() < 0.5 ? "wet patch" : "crack",
  }));
  return [...shown, ...told];
}

/** One weak place in five lies along a pipe. */
function structuresOf(random: Chance, weak: readonly WeakPlace[], length_m: number) {
  const along = weak.flatMap(({ from_m, to_m }) =>
    random.uniform() < 0.2 ? [random.between(from_m, to_m)] : [],
  );
  return [...along, ...some(random, 1).map(() => random.between(10, length_m - 10))];
}

/** A list as long as a Poisson variable of that mean. */
function some(random: Chance, mean: number): readonly unknown[] {
  let [count, left] = [-1, 1];
  while (left > Math.exp(-mean)) {
    left *= random.uniform();
    count += 1;
  }
  return Array.from({ length: Math.max(0, count) });
}
