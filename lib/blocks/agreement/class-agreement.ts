import { itemAt } from "../../numerics/arrays.js";
import { cohenKappa } from "../../numerics/statistics/cohen-kappa.js";
import type { ClassedStretch, ClassPair } from "./agreement.js";
import { matchClasses } from "./match-classes.js";
import type { CompareSegmentationsOptions } from "./options.js";

/** Upper 2.5 % point of the standard normal distribution. */
const NORMAL_975 = 1.959963984540054;

/** Cohen's kappa of the classes by metre, as they are matched, with its 95 % interval. */
export function classAgreement(
  one: readonly ClassedStretch[],
  given: readonly ClassedStretch[],
  options: CompareSegmentationsOptions,
) {
  const { independent_m } = options;
  const matched = matchClasses(one, given, options);
  const other = renamed(given, matched.classPairs);
  const names = [...new Set([...one, ...other].map((stretch) => stretch.class))].sort();
  const lengths = names.map(() => names.map(() => 0));
  let compared_m = 0;
  for (const a of one) {
    const row = itemAt(lengths, names.indexOf(a.class));
    for (const b of other) {
      const shared_m = Math.min(a.to_m, b.to_m) - Math.max(a.from_m, b.from_m);
      if (!(shared_m > 0)) continue;
      const column = names.indexOf(b.class);
      row[column] = itemAt(row, column) + shared_m;
      compared_m += shared_m;
    }
  }
  const most = Math.max(one.length, other.length);
  const each_m = independent_m === "block" ? Math.max(1, compared_m / most) : independent_m;
  const counts = lengths.map((row) => row.map((length) => length / each_m));
  const { kappa, standardError, agreement } = cohenKappa(counts);
  const half = NORMAL_975 * standardError;
  return {
    ...matched,
    compared_m,
    sameClass_pct: 100 * agreement,
    kappa,
    kappaInterval: [Math.max(-1, kappa - half), Math.min(1, kappa + half)] as const,
  };
}

/** The other's stretches with the one's names; a class that the one does not have keeps apart. */
function renamed(
  stretches: readonly ClassedStretch[],
  pairs: readonly ClassPair[],
): readonly ClassedStretch[] {
  const nameOf = new Map(pairs.map((pair) => [pair.other, pair.one]));
  return stretches.map((stretch) => ({
    ...stretch,
    class: nameOf.get(stretch.class) ?? `${stretch.class} of the other`,
  }));
}
