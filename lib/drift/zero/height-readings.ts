import { checkNumber, NOT_NEGATIVE } from "../../earth/check.js";
import { type Fault, quoted } from "../../step/step-error.js";

/** One reading over the spot of a height test. */
export interface HeightReading {
  /** Of the coils above ground, m. */
  readonly height_m: number;
  /** Channel field → value in the channel's unit; missing values are left out. */
  readonly values: Readonly<Record<string, number>>;
  /** s since 1970; null or left out where it is not known: no drift is taken off then. */
  readonly time_s?: number | null;
}

/** Faults of the readings of a height test. */
export function heightFaults(readings: unknown, path: string): readonly Fault[] {
  const expected = "readings at two heights at least, each with height_m and values";
  if (!Array.isArray(readings)) {
    return [{ code: "not-a-list", path, expected, received: quoted(readings) }];
  }
  const faults: Fault[] = [];
  for (const [i, one] of readings.entries()) {
    checkNumber(faults, `${path}[${i}].height_m`, [one?.height_m, NOT_NEGATIVE]);
    if (typeof one?.values === "object" && one.values !== null) continue;
    const received = quoted(one?.values);
    const values = "values by channel field";
    faults.push({ code: "no-values", path: `${path}[${i}].values`, expected: values, received });
  }
  if (faults.length > 0) return faults;
  const heights = new Set((readings as readonly HeightReading[]).map(({ height_m }) => height_m));
  if (heights.size > 1) return [];
  return [{ code: "one-height", path, expected, received: `${heights.size} heights` }];
}
