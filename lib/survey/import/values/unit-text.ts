/** Units that readings come in, and what one of them is of the unit that the survey keeps. */
const UNITS = {
  ppm: { kept: "ppm", factor: 1 },
  ppt: { kept: "ppm", factor: 1000 },
  "%": { kept: "ppm", factor: 10_000 },
  "mS/m": { kept: "mS/m", factor: 1 },
  "S/m": { kept: "mS/m", factor: 1000 },
  "µS/cm": { kept: "mS/m", factor: 0.1 },
  "mS/cm": { kept: "mS/m", factor: 100 },
  "µS/m": { kept: "mS/m", factor: 0.001 },
} as const;

export type ReadingUnit = keyof typeof UNITS;

export const READING_UNITS = Object.keys(UNITS) as readonly ReadingUnit[];

/** The survey's unit and the factor to it. */
export function keptUnit(unit: ReadingUnit): { kept: "ppm" | "mS/m"; factor: number } {
  return UNITS[unit];
}

const WORDS: readonly (readonly [RegExp, ReadingUnit])[] = [
  [/^ppm$/, "ppm"],
  [/^(ppt|‰|permil|promille|pour mille)$/, "ppt"],
  [/^(%|pct|percent)$/, "%"],
  [/^(ms\/m|ms m\^?-1|mmho\/m|ms per m|mspm|ms m)$/, "mS/m"],
  [/^(s\/m|s m\^?-1|mho\/m)$/, "S/m"],
  [/^([µμu]s\/cm|[µμu]s cm\^?-1)$/, "µS/cm"],
  [/^(ms\/cm|ms cm\^?-1)$/, "mS/cm"],
  [/^([µμu]s\/m|[µμu]s m\^?-1)$/, "µS/m"],
];

/** The unit of a reading; null for any other text. "M" for mega is no unit that readings have. */
export function readingUnit(text: string): ReadingUnit | null {
  const plain = text.trim().toLowerCase().replace(/\s+/g, " ").replace("·", " ");
  return WORDS.find(([pattern]) => pattern.test(plain))?.[1] ?? null;
}

/** Metres in a unit of length; null for any other text. */
export function metresIn(unit: string): number | null {
  return { m: 1, cm: 0.01, mm: 0.001, km: 1000 }[unit.trim().toLowerCase()] ?? null;
}
