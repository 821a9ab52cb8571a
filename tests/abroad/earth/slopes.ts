import type { Column } from "../ground/columns.js";
import table from "./bank-factors.json" with { type: "json" };
import type { ChannelSpec } from "./forward.js";

/** A bank with slopes: its outline, and what a channel reads on it over what it reads on level ground. */
export interface Slopes {
  readonly name: string;
  readonly shape: BankShape;
  /** Under the line; given where the bank is one cross-section of several materials. */
  readonly column?: Column;
  factor(channel: ChannelSpec, column: Column): number;
}

export interface BankShape {
  readonly crestWidth_m: number;
  readonly height_m: number;
  readonly watersideSlope: number;
  readonly landsideSlope: number;
  readonly offset_m: number;
}

type Pair = Pick<ChannelSpec, "orientation" | "separation_m"> & { readonly height_m: number };

export const BANKS = ["broad", "narrow"] as const;
export type BankName = (typeof BANKS)[number];
export const SECTIONS = ["homogeneous", "on clay", "on sand", "dry crust", "clay core"] as const;
export type SectionName = (typeof SECTIONS)[number];

const PAIRS = table.pairs as readonly Pair[];

/**
 * A bank of layers, each depth's part of the response lowered as over a homogeneous bank: first order in the
 * layers' contrast (finite elements, `bank-factors.py`). What lowers in-phase is another share of
 * that, `IN_PHASE`.
 */
export function layeredSlopes(bank: BankName, height_m: number): Slopes {
  const { shape, parts } = table.banks[bank];
  return {
    name: bank,
    shape,
    factor: (channel, column) => {
      const p = pairOf(channel, height_m);
      return ofKind(channel, onBank(parts[p]!, column, PAIRS[p]!) / onLevel(column, PAIRS[p]!));
    },
  };
}

/** One cross-section of several materials all along, with their charges at every contact. */
export function sectionSlopes(bank: BankName, section: SectionName, height_m: number): Slopes {
  const { shape, sections } = table.banks[bank];
  const { factors, ...made } = sections.find(({ name }) => name === section)!;
  const core = "core" in made ? made.core : undefined;
  const tops = core ? [0, core.top_m, core.base_m] : made.top_m;
  const ohm_m = core
    ? [made.resistivity_ohm_m[0]!, core.resistivity_ohm_m, made.resistivity_ohm_m.at(-1)!]
    : made.resistivity_ohm_m;
  return {
    name: `${bank}, ${section}`,
    shape,
    column: { top_m: tops, log10: ohm_m.map(Math.log10) },
    factor: (channel) => ofKind(channel, factors[pairOf(channel, height_m)]!),
  };
}

/**
 * How much more of in-phase is lost than of quadrature, at full induction over homogeneous banks of
 * 10 to 40 ohm-m at 10 and 60 kHz (`full-induction.py`): 1.0 to 1.6 with HCP, 0.5 to 1.2 with VCP.
 */
const IN_PHASE = { HCP: 1.25, VCP: 0.75, PRP: 1 } as const;

function ofKind({ kind, orientation }: ChannelSpec, factor: number): number {
  return kind === "inphase" ? 1 - IN_PHASE[orientation] * (1 - factor) : factor;
}

function pairOf({ orientation, separation_m }: ChannelSpec, height_m: number): number {
  const at = PAIRS.findIndex(
    (pair) =>
      pair.orientation === orientation &&
      pair.separation_m === separation_m &&
      pair.height_m === height_m,
  );
  if (at < 0)
    throw new Error(`no finite elements for ${orientation} ${separation_m} at ${height_m}`);
  return at;
}

function onLevel(column: Column, pair: Pair): number {
  return weighed(column, (top_m, base_m) => levelPart(pair, top_m, base_m));
}

function onBank(parts: readonly number[], column: Column, pair: Pair): number {
  const tops = table.partTops_m;
  return weighed(column, (top_m, base_m) =>
    parts.reduce((sum, part, k) => {
      const [from, to] = [tops[k]!, tops[k + 1] ?? Number.POSITIVE_INFINITY];
      const [a, b] = [Math.max(top_m, from), Math.min(base_m, to)];
      return a < b ? sum + (part * levelPart(pair, a, b)) / levelPart(pair, from, to) : sum;
    }, 0),
  );
}

/** Σ conductivity × part over a column's layers. */
function weighed({ top_m, log10 }: Column, part: (top_m: number, base_m: number) => number) {
  return top_m.reduce((sum, top, j) => {
    return sum + 10 ** -log10[j]! * part(top, top_m[j + 1] ?? Number.POSITIVE_INFINITY);
  }, 0);
}

/** Of homogeneous level ground under coils on it. Source: McNeill 1980; PRP Wait 1962. */
function levelPart(pair: Pair, top_m: number, base_m: number): number {
  return below(pair, top_m) - below(pair, base_m);
}

function below({ orientation, separation_m, height_m }: Pair, depth_m: number): number {
  if (depth_m === Number.POSITIVE_INFINITY) return 0;
  const z = (2 * (depth_m + height_m)) / separation_m;
  const root = Math.sqrt(z * z + 1);
  if (orientation === "HCP") return 1 / root;
  return orientation === "VCP" ? root - z : 1 - z / root;
}
