import Papa from "papaparse";
import type { ClassedStretch } from "../blocks/agreement/agreement.js";

/**
 * A second interpreter's blocks from a CSV of `from_m,to_m,class`, by chainage.
 *
 * @throws RangeError where a column is missing, or with the first row whose chainages are no
 *   numbers.
 */
export function secondBlocks(text: string): readonly ClassedStretch[] {
  const { data, meta } = Papa.parse<Readonly<Record<string, string>>>(text.trim(), {
    header: true,
    skipEmptyLines: true,
    transformHeader: (name) => name.trim(),
  });
  const missing = ["from_m", "to_m", "class"].filter((name) => !meta.fields?.includes(name));
  if (missing.length > 0) throw new RangeError(`must have the columns ${missing.join(", ")}`);
  const stretches = data.map((row, i) => {
    const [from_m, to_m] = [chainage(row.from_m), chainage(row.to_m)];
    if (!(to_m > from_m)) {
      const got = `${row.from_m} and ${row.to_m}`;
      throw new RangeError(`row ${i + 2}: from_m must be a number below to_m, got ${got}`);
    }
    return { from_m, to_m, class: (row.class ?? "").trim() };
  });
  return stretches.sort((one, other) => one.from_m - other.from_m);
}

function chainage(text: string | undefined): number {
  return text === undefined || text.trim() === "" ? Number.NaN : Number(text);
}
