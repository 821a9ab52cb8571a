import { groupedBy, itemAt } from "../../numerics/arrays.js";
import type { Channel, Orientation } from "../instrument.js";
import type { Described } from "./described.js";

/** Another reading of the columns than the declared one. */
export interface Alternative {
  /** What would be so, to be read after "as if". */
  readonly text: string;
  readonly described: readonly Described[];
}

/**
 * Slips that loggers, exports and hand-written descriptions make (common practice): quadrature and
 * in-phase exchanged, other coils, a sign, a power of ten, exchanged columns. `suspects`: the
 * channels that fit badly as described; slips of single channels are tried on these.
 */
export function alternativesOf(
  declared: readonly Described[],
  suspects: readonly number[],
): readonly Alternative[] {
  return [
    ...partAlternatives(declared, suspects),
    ...orientationAlternatives(declared),
    ...scaleAlternatives(declared, suspects),
    ...columnAlternatives(declared, suspects),
  ];
}

const isPart = ({ kind }: Channel) => kind !== "conductivity";

/** A slip of all the channels of a file, and of all files. */
function wholeAlternatives(
  declared: readonly Described[],
  text: string,
  slip: (one: Described) => Described,
): readonly Alternative[] {
  const sources = [...new Set(declared.map(({ source }) => source))];
  const all = { text, described: declared.map(slip) };
  if (sources.length < 2) return [all];
  const single = sources.map((source) => ({
    text: `in ${source} ${text}`,
    described: declared.map((one) => (one.source === source ? slip(one) : one)),
  }));
  return [all, ...single];
}

/** In-phase where quadrature is declared, and the other way round. */
function partAlternatives(
  declared: readonly Described[],
  suspects: readonly number[],
): readonly Alternative[] {
  if (!declared.some(isPart)) return [];
  const single = suspects.filter((c) => isPart(itemAt(declared, c)));
  return [
    ...wholeAlternatives(declared, "quadrature and in-phase were exchanged", otherPart),
    ...single.flatMap((c) => partnerAlternatives(declared, suspects, c)),
    ...single.map((c): Alternative => {
      const one = itemAt(declared, c);
      const text = `channel ${one.field} were ${one.kind === "inphase" ? "quadrature" : "in-phase"}`;
      return { text, described: replaced(declared, new Map([[c, otherPart(one)]])) };
    }),
  ];
}

function otherPart(one: Described): Described {
  if (!isPart(one)) return one;
  return { ...one, kind: one.kind === "inphase" ? "quadrature" : "inphase" };
}

/**
 * The columns of the two parts of one pair of coils; where both are suspects they are tried once.
 */
function partnerAlternatives(
  declared: readonly Described[],
  suspects: readonly number[],
  c: number,
): readonly Alternative[] {
  const one = itemAt(declared, c);
  const partner = declared.findIndex(
    (two) => two.kind !== one.kind && isPart(two) && sameCoils(one, two),
  );
  if (partner < 0 || (suspects.includes(partner) && partner < c)) return [];
  return exchanges(declared, c, partner);
}

function sameCoils(one: Described, two: Described): boolean {
  const { frequency_Hz, separation_m, orientation, source } = one;
  return (
    two.frequency_Hz === frequency_Hz &&
    two.separation_m === separation_m &&
    two.orientation === orientation &&
    two.source === source
  );
}

const ORIENTATIONS: readonly Orientation[] = ["HCP", "VCP", "PRP"];

/** Coils of one orientation that were another, and two orientations that were exchanged. */
function orientationAlternatives(declared: readonly Described[]): readonly Alternative[] {
  const present = ORIENTATIONS.filter((word) => declared.some((one) => one.orientation === word));
  const turned = (from: Orientation, to: Orientation) => (one: Described) =>
    one.orientation === from ? { ...one, orientation: to } : one;
  const single = present.flatMap((from) =>
    ORIENTATIONS.filter((to) => to !== from).flatMap((to) =>
      wholeAlternatives(declared, `the coils declared ${from} were ${to}`, turned(from, to)),
    ),
  );
  const both = pairsOf(present).map(([one, other]) => ({
    text: `${one} and ${other} were exchanged`,
    described: declared.map((each) =>
      each.orientation === one ? turned(one, other)(each) : turned(other, one)(each),
    ),
  }));
  return [...single, ...both];
}

/** What a file's values may have to be taken times. */
const FACTORS = [
  [-1, "had the other sign"],
  [1e3, "were a thousand times too small"],
  [1e-3, "were a thousand times too large"],
] as const;

function scaleAlternatives(
  declared: readonly Described[],
  suspects: readonly number[],
): readonly Alternative[] {
  return FACTORS.flatMap(([factor, text]) => {
    const scaled = (one: Described) => ({ ...one, factor: factor * one.factor });
    const single = suspects.map((c) => {
      const one = itemAt(declared, c);
      const described = replaced(declared, new Map([[c, scaled(one)]]));
      return { text: `the values of channel ${one.field} ${text}`, described };
    });
    return [...wholeAlternatives(declared, `all values ${text}`, scaled), ...single];
  });
}

/** Two columns of one kind in one file, one in the other's place. */
function columnAlternatives(
  declared: readonly Described[],
  suspects: readonly number[],
): readonly Alternative[] {
  return pairsOf(suspects)
    .filter(([a, b]) => {
      const [one, other] = [itemAt(declared, a), itemAt(declared, b)];
      return one.kind === other.kind && one.source === other.source;
    })
    .flatMap(([a, b]) => exchanges(declared, a, b));
}

/** Two columns exchanged in their file, and in every file where they stand in the same order. */
function exchanges(declared: readonly Described[], a: number, b: number): readonly Alternative[] {
  const own = exchanged(declared, [[a, b]]);
  const sources = [...groupedBy([...declared.keys()], (c) => itemAt(declared, c).source).values()];
  const home = sources.find((columns) => columns.includes(a)) ?? [];
  const [first, second] = [home.indexOf(a), home.indexOf(b)];
  const pairs = sources
    .filter((columns) => columns.length === home.length)
    .map((columns) => [itemAt(columns, first), itemAt(columns, second)] as const);
  return pairs.length < 2 ? [own] : [own, exchanged(declared, pairs)];
}

function exchanged(
  declared: readonly Described[],
  pairs: readonly (readonly [number, number])[],
): Alternative {
  const names = pairs.map(
    ([a, b]) => `${itemAt(declared, a).field} and ${itemAt(declared, b).field}`,
  );
  const moved = pairs.flatMap(([a, b]) => {
    const [one, other] = [itemAt(declared, a), itemAt(declared, b)];
    return [
      [a, { ...one, column: other.column, factor: other.factor }],
      [b, { ...other, column: one.column, factor: one.factor }],
    ] as const;
  });
  const text = `the columns of ${names.join(", of ")} were exchanged`;
  return { text, described: replaced(declared, new Map(moved)) };
}

function replaced(declared: readonly Described[], by: ReadonlyMap<number, Described>) {
  return declared.map((one, c) => by.get(c) ?? one);
}

function pairsOf<Item>(list: readonly Item[]): readonly (readonly [Item, Item])[] {
  return list.flatMap((one, i) => list.slice(i + 1).map((other) => [one, other] as const));
}
