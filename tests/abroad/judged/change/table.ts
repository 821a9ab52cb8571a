import { FOUND, type JudgedPair, type Side } from "./judged.js";

/** Pairs of one condition, without a change and with one. */
export interface JudgedCondition {
  readonly still: readonly JudgedPair[];
  readonly changed: readonly JudgedPair[];
}

const COLUMNS = [
  "condition",
  "found",
  "found of claimed",
  "overlap",
  "ratio held (low, high)",
  "slices held (low, high)",
  "false, still",
  "false, changed",
  "offsets",
];

/** A table of Markdown, one row a condition; shares with one binomial standard error. */
export function changeTable(all: ReadonlyMap<string, JudgedCondition>): string {
  const rows = [...all].map(([name, one]) => [name, ...cellsOf(one)]);
  return [COLUMNS, COLUMNS.map(() => "---"), ...rows]
    .map((cells) => `| ${cells.join(" | ")} |`)
    .join("\n");
}

function cellsOf({ still, changed }: JudgedCondition): readonly string[] {
  const overlaps = changed.flatMap(({ overlap }) => overlap);
  const hits = overlaps.filter((one) => one >= FOUND);
  const mean = hits.reduce((sum, one) => sum + one / hits.length, 0);
  const wrong = (pairs: readonly JudgedPair[]) =>
    shareText([pairs.filter(({ false_m }) => false_m.length > 0).length, pairs.length]);
  const pairs = [...still, ...changed];
  const offsets = (of: "offsets" | "orGround") => pairs.reduce((sum, one) => sum + one[of], 0);
  return [
    shareText([hits.length, overlaps.length]),
    shareText(claimed(changed)),
    hits.length > 0 ? mean.toFixed(2) : "–",
    sidesText(changed.flatMap(({ headlines }) => headlines)),
    sidesText(changed.flatMap(({ slices }) => slices)),
    wrong(still),
    wrong(changed),
    `${offsets("offsets")} (${offsets("orGround")})`,
  ];
}

/** Of the changes that the comparison states it would find, how many it found. */
function claimed(changed: readonly JudgedPair[]): readonly [number, number] {
  const overlaps = changed.flatMap((pair) => pair.overlap.filter((_, k) => pair.claimed[k]));
  return [overlaps.filter((one) => one >= FOUND).length, overlaps.length];
}

function sidesText(sides: readonly Side[]): string {
  const count = (side: Side) => sides.filter((one) => one === side).length;
  return `${shareText([count("held"), sides.length])} (${count("too low")}, ${count("too high")})`;
}

/**
 * Such as "9/10 (90 ± 11 %)": one standard error with one success and one failure added, so that a
 * share of 0 or 1 has one too (Agresti & Coull 1998).
 */
export function shareText([part, whole]: readonly [number, number]): string {
  if (whole === 0) return "–";
  const inner = (part + 1) / (whole + 2);
  const error = Math.sqrt((inner * (1 - inner)) / (whole + 2));
  return `${part}/${whole} (${((100 * part) / whole).toFixed(0)} ± ${(100 * error).toFixed(0)} %)`;
}
