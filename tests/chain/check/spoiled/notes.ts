import { put, resourceOf, setCell } from "../../../survey/support/survey-folder.js";
import { cell, line, type Spoiling } from "./spoiling.js";

/** Faults of notes, incidents, levels, temperatures and base checks. */
export const notesFaults: readonly Spoiling[] = [
  [
    "a note that ends before it begins",
    cell("field-notes.csv", 2, "from_m", "43"),
    ["stretch-reversed", "field-notes.csv", 2, "from_m"],
    "field-notes.csv row 2, field from_m: must be at most to_m (42), got 43",
  ],
  [
    "a note without any position",
    line("field-notes.csv", "metal,pipe,,,,,,"),
    ["note-without-position", "field-notes.csv", 4, "from_m"],
    "field-notes.csv row 4, field from_m: must be given, or longitude and latitude instead, " +
      "got a blank cell",
  ],
  [
    "a note of a kind that there is not",
    cell("field-notes.csv", 2, "kind", "metall"),
    ["not-allowed", "field-notes.csv", 2, "kind"],
    "field-notes.csv row 2, field kind: must be one of mark, metal, structure, remark, " +
      'got "metall"',
  ],
  [
    "a note beyond the end of the crest",
    cell("field-notes.csv", 2, "to_m", "4200"),
    ["chainage-range", "field-notes.csv", 2, "to_m"],
    "field-notes.csv row 2, field to_m: must be a chainage of the centreline, 0.0 to 309.7 m, " +
      "got 4200",
  ],
  [
    "a note for a campaign that there is not",
    cell("field-notes.csv", 3, "campaign", "2031-11"),
    ["unknown-campaign", "field-notes.csv", 3, "campaign"],
    "field-notes.csv row 3, field campaign: must be one of the campaigns 2031-10, or blank for " +
      'all, got "2031-11"',
  ],
  [
    "an empty file",
    (to) => put(to.files, "incidents.csv", []),
    ["empty-file", "incidents.csv", null, null],
    "incidents.csv: must be filled, got an empty file",
  ],
  [
    "a quote that is never closed",
    line("incidents.csv", '2029-01-01,100,crack,"dry'),
    ["bad-quotes", "incidents.csv", 3, null],
    "incidents.csv row 3: must be quoted properly, got Quoted field unterminated",
  ],
  [
    "a separator that is not the one declared",
    (to) => {
      resourceOf(to, "incidents").dialect = { delimiter: ";" };
    },
    ["separator", "incidents.csv", 1, null],
    "incidents.csv row 1: must be separated by semicolons, as its dialect says, got cells " +
      "separated by commas",
  ],
  [
    "a file of another encoding",
    (to) => put(resourceOf(to, "incidents"), "encoding", "utf-16le"),
    ["encoding", "incidents.csv", null, null],
    "incidents.csv: must be text in the encoding utf-16le, got other bytes " +
      '(looks like "encoding": "utf-8")',
  ],
  [
    "an encoding that there is not",
    (to) => put(resourceOf(to, "incidents"), "encoding", "utf-99"),
    ["encoding", "incidents.csv", null, null],
    "incidents.csv: must be text in the encoding utf-99, got other bytes " +
      '(looks like "encoding": "utf-8")',
  ],
  [
    "a chainage as kilometres and metres",
    cell("incidents.csv", 2, "chainage_m", "0+120"),
    ["not-a-number", "incidents.csv", 2, "chainage_m"],
    'incidents.csv row 2, field chainage_m: must be a number, got "0+120" ' +
      "(looks like kilometres and metres; give metres)",
  ],
  [
    "a day that the calendar does not have",
    cell("water-levels.csv", 2, "time", "2031-02-30T09:00:10Z"),
    ["not-a-time", "water-levels.csv", 2, "time"],
    "water-levels.csv row 2, field time: must be an ISO 8601 time, such as " +
      '2031-10-14T09:30:00+01:00, got "2031-02-30T09:00:10Z"',
  ],
  [
    "a water level of 9999",
    cell("water-levels.csv", 3, "level_m", "9999"),
    ["mark-for-none", "water-levels.csv", 3, "level_m"],
    "water-levels.csv row 3, field level_m: must be a reading, not a mark for none, got 9999 " +
      '(leave the cell blank, or list the mark under "missingValues")',
  ],
  [
    "soil temperatures in degrees Fahrenheit",
    (to) => {
      for (const row of [2, 3, 4]) {
        setCell(to, { file: "soil-temperature.csv", row, field: "temperature_degC" }, `5${row}.1`);
      }
    },
    ["unit-suspicious", "soil-temperature.csv", null, "temperature_degC"],
    "soil-temperature.csv, field temperature_degC: must be in °C, got a median of 53.1 " +
      "(looks like °F, expected °C)",
  ],
  [
    "soil depths in centimetres",
    cell("soil-temperature.csv", 3, "depth_m", "100"),
    ["unit-suspicious", "soil-temperature.csv", null, "depth_m"],
    "soil-temperature.csv, field depth_m: must be in m, got a depth of 100 " +
      "(looks like cm, expected m)",
  ],
  [
    "base checks of another week",
    (to) => {
      const other = (row: string) => row.replace("2031-10-14", "2031-10-24");
      to.files["base-checks.csv"] = to.files["base-checks.csv"]!.map(other);
    },
    ["other-day", "base-checks.csv", 2, "time"],
    "base-checks.csv row 2, field time: must be of the readings' day, 2031-10-14, got " +
      '"2031-10-24T07:50:00Z" (10 days away; is one of the clocks wrong, or the campaign?)',
  ],
  [
    "readings dated by a receiver whose weeks ran over",
    (to) => {
      const early = (row: string) => row.replace("2031-10-14", "2012-02-28");
      to.files["walk.csv"] = to.files["walk.csv"]!.map(early);
    },
    ["other-day", "base-checks.csv", 2, "time"],
    "base-checks.csv row 2, field time: must be of the readings' day, 2012-02-28, got " +
      '"2031-10-14T07:50:00Z" (7,168 days away; 1,024 weeks: a receiver\'s count of weeks ' +
      "ran over)",
  ],
];
