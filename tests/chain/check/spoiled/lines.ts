import { cell, type Spoiling } from "./spoiling.js";

/** Faults of resistivity lines. */
export const lineFaults: readonly Spoiling[] = [
  [
    "an electrodes file that is not there, and not every reading as well",
    (to) => delete to.files["resistivity-electrodes.csv"],
    ["missing-file", "resistivity-electrodes.csv", null, null],
    "resistivity-electrodes.csv: must be a file in the survey folder, got nothing",
  ],
  [
    "two electrodes in one place",
    cell("resistivity-electrodes.csv", 3, "x_m", "0"),
    ["electrode-place", "resistivity-electrodes.csv", 3, "x_m"],
    "resistivity-electrodes.csv row 3, field x_m: must be another place than that of electrode " +
      "1, got 0",
  ],
  [
    "a negative current",
    cell("resistivity-readings.csv", 3, "current_mA", "-100"),
    ["out-of-range", "resistivity-readings.csv", 3, "current_mA"],
    "resistivity-readings.csv row 3, field current_mA: must be above 0, got -100",
  ],
  [
    "an electrode that the line does not have",
    cell("resistivity-readings.csv", 2, "n", "7"),
    ["unknown-electrode", "resistivity-readings.csv", 2, "n"],
    "resistivity-readings.csv row 2, field n: must be an electrode of line R1 (1 to 4), or 0 for " +
      "remote, got 7",
  ],
  [
    "one electrode in two places",
    cell("resistivity-readings.csv", 2, "n", "2"),
    ["electrode-repeated", "resistivity-readings.csv", 2, "n"],
    "resistivity-readings.csv row 2, field n: must be another electrode than the others of the " +
      "row, got 2",
  ],
  [
    "readings of a line without electrodes",
    cell("resistivity-readings.csv", 2, "line", "R9"),
    ["unknown-line", "resistivity-readings.csv", 2, "line"],
    'resistivity-readings.csv row 2, field line: must be a line of the electrodes file, got "R9"',
  ],
];
