import { put, resourceOf, setCell } from "../../../survey/support/survey-folder.js";
import { cell, type Spoiling } from "./spoiling.js";

/** Faults of times, positions and values in a readings file. */
export const readingsValueFaults: readonly Spoiling[] = [
  [
    "a word where a number should be",
    cell("walk.csv", 4, "c_hcp", "n/a"),
    ["not-a-number", "walk.csv", 4, "c_hcp"],
    'walk.csv row 4, field c_hcp: must be a number, got "n/a" (leave the cell blank, or list the ' +
      'mark under "missingValues")',
  ],
  [
    "swapped latitude and longitude",
    (to) => {
      setCell(to, { file: "walk.csv", row: 3, field: "longitude" }, "54");
      setCell(to, { file: "walk.csv", row: 3, field: "latitude" }, "3.0003");
    },
    ["position-swapped", "walk.csv", 3, "longitude"],
    "walk.csv row 3, field longitude: must be within 500 m of the centreline, got 54, 3.0003 " +
      "(latitude and longitude look swapped)",
  ],
  [
    "a position far from the centreline",
    cell("walk.csv", 2, "latitude", "54.01"),
    ["position-far", "walk.csv", 2, "longitude"],
    "walk.csv row 2, field longitude: must be within 500 m of the centreline, got 3.0001, 54.01, " +
      "1,096 m away",
  ],
  [
    "a longitude without its latitude",
    cell("walk.csv", 2, "latitude", ""),
    ["half-position", "walk.csv", 2, "latitude"],
    "walk.csv row 2, field latitude: must be given where longitude is (3.0001), got a blank cell",
  ],
  [
    "a time without offset",
    cell("walk.csv", 3, "time", "2031-10-14T09:00:10"),
    ["time-without-offset", "walk.csv", 3, "time"],
    "walk.csv row 3, field time: must be an ISO 8601 time with its offset, " +
      'got "2031-10-14T09:00:10" (add Z or +01:00)',
  ],
  [
    "times that run backwards",
    cell("walk.csv", 6, "time", "2031-10-14T09:00:00+01:00"),
    ["time-backwards", "walk.csv", 6, "time"],
    "walk.csv row 6, field time: must be no earlier than the row before (2031-10-14T08:00:30Z), " +
      'got "2031-10-14T08:00:00Z"',
  ],
  [
    "a channel whose unit does not fit its kind",
    (to) => put(resourceOf(to, "readings").instrument.channels[0], "unit", "ppm"),
    ["unit-kind", "walk.csv", null, "c_hcp"],
    "walk.csv, field c_hcp: must be in mS/m, being conductivity, got ppm",
  ],
  [
    "conductivities in S/m",
    (to) => {
      for (let row = 2; row <= 6; row++) {
        setCell(to, { file: "walk.csv", row, field: "c_hcp" }, `0.02${row}`);
      }
    },
    ["unit-suspicious", "walk.csv", null, "c_hcp"],
    "walk.csv, field c_hcp: must be in mS/m, got a median size of 0.024 " +
      "(looks like S/m, expected mS/m)",
  ],
  [
    "a value above what the schema allows",
    (to) => {
      resourceOf(to, "readings").schema.fields[3].constraints = { maximum: 23.5 };
    },
    ["out-of-range", "walk.csv", 6, "c_hcp"],
    "walk.csv row 6, field c_hcp: must be at most 23.5, got 24.0",
  ],
  [
    "a blank where the schema asks for a value",
    (to) => {
      resourceOf(to, "readings").schema.fields[3].constraints = { required: true };
    },
    ["blank", "walk.csv", 7, "c_hcp"],
    "walk.csv row 7, field c_hcp: must be given, got a blank cell",
  ],
  [
    "a day that comes before its month and year",
    cell("walk.csv", 3, "time", "14.10.2031 09:00"),
    ["not-a-time", "walk.csv", 3, "time"],
    "walk.csv row 3, field time: must be an ISO 8601 time, such as 2031-10-14T09:30:00+01:00, " +
      'got "14.10.2031 09:00" (year first, then month and day)',
  ],
  [
    "a time of day without its date",
    cell("walk.csv", 3, "time", "09:00:10"),
    ["not-a-time", "walk.csv", 3, "time"],
    "walk.csv row 3, field time: must be an ISO 8601 time, such as 2031-10-14T09:30:00+01:00, " +
      'got "09:00:10" (the date is missing)',
  ],
  [
    "a time as a count of seconds",
    cell("walk.csv", 3, "time", "1949648410"),
    ["not-a-time", "walk.csv", 3, "time"],
    "walk.csv row 3, field time: must be an ISO 8601 time, such as 2031-10-14T09:30:00+01:00, " +
      'got "1949648410" (looks like seconds or milliseconds since 1970)',
  ],
  [
    "a time as a spreadsheet's day number",
    cell("walk.csv", 3, "time", "48135.375"),
    ["not-a-time", "walk.csv", 3, "time"],
    "walk.csv row 3, field time: must be an ISO 8601 time, such as 2031-10-14T09:30:00+01:00, " +
      'got "48135.375" (looks like a spreadsheet\'s day number)',
  ],
  [
    "degrees with a letter",
    cell("walk.csv", 2, "longitude", "3.0001E"),
    ["not-a-number", "walk.csv", 2, "longitude"],
    'walk.csv row 2, field longitude: must be a number, got "3.0001E" ' +
      "(give degrees with decimals, west and south below zero)",
  ],
  [
    "degrees and minutes",
    cell("walk.csv", 2, "latitude", "54°0.1'"),
    ["not-a-number", "walk.csv", 2, "latitude"],
    'walk.csv row 2, field latitude: must be a number, got "54°0.1\'" ' +
      "(give degrees with decimals, west and south below zero)",
  ],
  [
    "a receiver that wrote nought where it had no position",
    (to) => {
      setCell(to, { file: "walk.csv", row: 5, field: "longitude" }, "0");
      setCell(to, { file: "walk.csv", row: 5, field: "latitude" }, "0.000");
    },
    ["position-far", "walk.csv", 5, "longitude"],
    "walk.csv row 5, field longitude: must be within 500 m of the centreline, got 0, 0 " +
      "(a GPS without a position writes 0, 0; leave the cells blank)",
  ],
  [
    "conductivities in µS/cm",
    (to) => {
      for (let row = 2; row <= 6; row++) {
        setCell(to, { file: "walk.csv", row, field: "c_hcp" }, `${70000 + row}`);
      }
    },
    ["unit-suspicious", "walk.csv", null, "c_hcp"],
    "walk.csv, field c_hcp: must be in mS/m, got a median size of 70000 " +
      "(more than sea water conducts; looks like µS/m or µS/cm, expected mS/m)",
  ],
  [
    "a reading of -9999 where there was none",
    cell("walk.csv", 4, "c_hcp", "-9999"),
    ["mark-for-none", "walk.csv", 4, "c_hcp"],
    "walk.csv row 4, field c_hcp: must be a reading, not a mark for none, got -9999 " +
      '(leave the cell blank, or list the mark under "missingValues")',
  ],
  [
    "a position of -9999",
    (to) => {
      setCell(to, { file: "walk.csv", row: 4, field: "longitude" }, "-9999");
      setCell(to, { file: "walk.csv", row: 4, field: "latitude" }, "-9999");
    },
    ["position-far", "walk.csv", 4, "longitude"],
    "walk.csv row 4, field longitude: must be within 500 m of the centreline, got -9999, -9999 " +
      "(looks like a mark for no position; leave the cells blank)",
  ],
  [
    "a longitude that lost its sign",
    cell("walk.csv", 4, "longitude", "-3.0005"),
    ["position-far", "walk.csv", 4, "longitude"],
    "walk.csv row 4, field longitude: must be within 500 m of the centreline, got " +
      "-3.0005, 54.00001 (the sign of the longitude looks wrong; west is below zero)",
  ],
  [
    "a receiver that held one position all day",
    (to) => {
      for (const row of [2, 3, 4, 6, 7]) {
        setCell(to, { file: "walk.csv", row, field: "longitude" }, "3.0001");
        setCell(to, { file: "walk.csv", row, field: "latitude" }, "54");
      }
    },
    ["positions-frozen", "walk.csv", null, "longitude"],
    "walk.csv, field longitude: must be the positions of a walk, got one position in all rows " +
      "(3.0001, 54) (the receiver may have held its last position)",
  ],
  [
    "a number with its unit",
    cell("walk.csv", 4, "c_hcp", "23.1 mS/m"),
    ["not-a-number", "walk.csv", 4, "c_hcp"],
    'walk.csv row 4, field c_hcp: must be a number, got "23.1 mS/m" ' +
      "(give the number alone; its unit is known)",
  ],
  [
    "a sign that a word processor made a dash of",
    cell("walk.csv", 4, "c_hcp", "−3.2"),
    ["not-a-number", "walk.csv", 4, "c_hcp"],
    'walk.csv row 4, field c_hcp: must be a number, got "−3.2" ' +
      "(the sign is a dash; write a minus, -)",
  ],
];
