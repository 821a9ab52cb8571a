import { itemAt } from "../../numerics/arrays.js";
import { cohenKappa } from "../../numerics/statistics/cohen-kappa.js";
import type { ClassedStretch } from "./agreement.js";
import type { CompareSegmentationsOptions } from "./options.js";

/** Upper 2.5 % point of the standard normal distribution. */
const NORMAL_975 = 1.959963984540054;

/** Cohen's kappa of the classes by metre, with its 95 % interval. */
export function classAgreement(
  one: readonly ClassedStretch[],
  other: readonly ClassedStretch[],
  { independent_m }: CompareSegmentationsOptions,
) {
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
    compared_m,
    sameClass_pct: 100 * agreement,
    kappa,
    kappaInterval: [Math.max(-1, kappa - half), Math.min(1, kappa + half)] as const,
  };
}
