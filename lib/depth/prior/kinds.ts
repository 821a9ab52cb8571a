import { itemAt, valueAt } from "../../numerics/arrays.js";

/** How a column of ground is made: its large structure, and the roughness within it. */
export interface Kind {
  /** Interfaces of the large structure, 0 to 3. */
  readonly interfaces: number;
  /** Standard deviation of the step at an interface, ln units; null: each block has any level. */
  readonly step: number | null;
  /** Standard deviation of layers about the large structure, ln units. */
  readonly rough: number;
  /** Whether values run straight between the middles of the blocks. */
  readonly graded: boolean;
}

type Shares<Value> = readonly (readonly [value: Value, share: number])[];

const INTERFACES: Shares<number> = [
  [0, 0.15],
  [1, 0.3],
  [2, 0.3],
  [3, 0.25],
];
const STEPS: Shares<number | null> = [
  [0.3, 0.2],
  [0.7, 0.3],
  [1.5, 0.3],
  [null, 0.2],
];
const ROUGH: Shares<number> = [
  [0.02, 0.25],
  [0.08, 0.25],
  [0.2, 0.2],
  [0.45, 0.15],
  [0.9, 0.15],
];
const GRADED: Shares<boolean> = [
  [false, 0.6],
  [true, 0.4],
];

type Form = Pick<Kind, "step" | "graded">;

/** Without an interface neither matters. */
const FLAT: Shares<Form> = [[{ step: null, graded: false }, 1]];
const FORMS: Shares<Form> = STEPS.flatMap(([step, a]) =>
  GRADED.map(([graded, b]) => [{ step, graded }, a * b] as const),
);

const ALL: Shares<Kind> = INTERFACES.flatMap(([interfaces, a]) =>
  ROUGH.flatMap(([rough, b]) =>
    (interfaces === 0 ? FLAT : FORMS).map(
      ([form, c]) => [{ interfaces, rough, ...form }, a * b * c] as const,
    ),
  ),
);

/** Kinds of ground (common practice), and their shares before any reading. */
export const KINDS: readonly Kind[] = ALL.map(([kind]) => kind);
export const KIND_SHARES: Float64Array = Float64Array.from(ALL, ([, share]) => share);

const PARTS = ["interfaces", "step", "rough", "graded"] as const;

/**
 * Shares of the kinds from masses: each part of a kind has shares of its own, the number of
 * interfaces, the steps, the roughness and the form, whatever the others. Fewer numbers are found
 * more surely than one for each kind.
 */
export function factored(masses: Float64Array): Float64Array {
  const ratios = PARTS.map((part) => partRatios(masses, part));
  const product = KIND_SHARES.map((share, at) =>
    ratios.reduce((all, ratio) => all * (ratio.get(itemAt(KINDS, at)) ?? 1), share),
  );
  const sum = product.reduce((total, value) => total + value, 0);
  return product.map((value) => value / sum);
}

/** For each kind the mass of its own value of a part over what that value had before. */
function partRatios(masses: Float64Array, part: (typeof PARTS)[number]): Map<Kind, number> {
  const applies = ({ interfaces }: Kind) =>
    interfaces > 0 || part === "interfaces" || part === "rough";
  const found = new Map<Kind[typeof part], readonly [now: number, before: number]>();
  let [all, allBefore] = [0, 0];
  for (const [at, kind] of KINDS.entries()) {
    if (!applies(kind)) continue;
    const [now, before] = found.get(kind[part]) ?? [0, 0];
    found.set(kind[part], [now + valueAt(masses, at), before + valueAt(KIND_SHARES, at)]);
    all += valueAt(masses, at);
    allBefore += valueAt(KIND_SHARES, at);
  }
  return new Map(
    KINDS.filter(applies).map((kind) => {
      const [now, before] = found.get(kind[part]) ?? [0, 1];
      return [kind, now / all / (before / allBefore)];
    }),
  );
}
