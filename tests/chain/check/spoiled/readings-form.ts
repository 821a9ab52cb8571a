import { put, resourceOf } from "../../../survey/support/survey-folder.js";
import { cell, type Spoiling } from "./spoiling.js";

/** Faults of the form of a readings file. */
export const readingsFormFaults: readonly Spoiling[] = [
  [
    "a readings file that is not there, and not every note of its campaign as well",
    (to) => delete to.files["walk.csv"],
    ["missing-file", "walk.csv", null, null],
    "walk.csv: must be a file in the survey folder, got nothing",
  ],
  [
    "a readings file with nothing but its header",
    (to) => to.files["walk.csv"]!.splice(1),
    ["no-rows", "walk.csv", null, null],
    "walk.csv: must be one reading or more, got no rows",
  ],
  [
    "a missing coordinate column, once",
    (to) => {
      to.files["walk.csv"] = to.files["walk.csv"]!.map((row) =>
        row.split(",").toSpliced(1, 1).join(","),
      );
    },
    ["missing-column", "walk.csv", 1, "longitude"],
    "walk.csv row 1, field longitude: must be a column of the file, got no such column",
  ],
  [
    "latitude and longitude in each other's place",
    cell("walk.csv", 2, "longitude", "54,3.0001"),
    ["ragged-row", "walk.csv", 2, null],
    "walk.csv row 2: must be 5 cells long, as the header, got 6 cells",
  ],
  [
    "a channel whose field is not in the file",
    (to) => put(resourceOf(to, "readings").instrument.channels[0], "field", "c_prp"),
    ["missing-column", "walk.csv", 1, "c_prp"],
    "walk.csv row 1, field c_prp: must be a column of the file, got no such column",
  ],
  [
    "a channel whose field is not in the schema",
    (to) => resourceOf(to, "readings").schema.fields.pop(),
    ["channel-not-in-schema", "walk.csv", 1, "c_vcp"],
    "walk.csv row 1, field c_vcp: must be a field of the resource's schema, being a channel, " +
      "got no such field",
  ],
  [
    "a row that was cut off",
    (to) => put(to.files["walk.csv"], 6, "2031-10-14T09:00:50+01:00,3.00"),
    ["ragged-row", "walk.csv", 7, null],
    "walk.csv row 7: must be 5 cells long, as the header, got 2 cells",
  ],
  [
    "a row with a value too many",
    cell("walk.csv", 7, "c_vcp", "1,2"),
    ["ragged-row", "walk.csv", 7, null],
    "walk.csv row 7: must be 5 cells long, as the header, got 6 cells",
  ],
  [
    "a logger's lines before the header",
    (to) => to.files["walk.csv"]!.unshift("Logger 7", "Operator: A. Fen"),
    ["no-header", "walk.csv", 1, null],
    'walk.csv row 1: must be the header, got "Logger 7" ' +
      "(the header stands in row 3; delete the rows before it)",
  ],
  [
    "a row of units under the header",
    (to) => to.files["walk.csv"]!.splice(1, 0, "UTC,deg,deg,mS/m,mS/m"),
    ["units-row", "walk.csv", 2, null],
    'walk.csv row 2: must be the first row of data, got "UTC,deg,deg,mS/m,mS/m" ' +
      "(looks like a row of units; delete it)",
  ],
  [
    "the page of a sign-in in the place of a download",
    (to) => put(to.files, "walk.csv", ["<!DOCTYPE html>", "<html><body>Sign in</body></html>"]),
    ["not-csv", "walk.csv", null, null],
    "walk.csv: must be a CSV file, got a web page (export the table as CSV)",
  ],
  [
    "a channel copied with all it is",
    (to) => put(resourceOf(to, "readings").instrument.channels[1], "orientation", "HCP"),
    ["duplicate-channel", "walk.csv", null, "c_vcp"],
    "walk.csv, field c_vcp: must be another kind, frequency, spacing or orientation than every " +
      "other channel, got those of c_hcp",
  ],
];
