import { put, resourceOf } from "../../../survey/support/survey-folder.js";
import { cell, line, type Spoiling } from "./spoiling.js";

/** Faults of boreholes, strata and laboratory values. */
export const groundFaults: readonly Spoiling[] = [
  [
    "a boreholes file that is not there, and not every stratum as well",
    (to) => delete to.files["boreholes.csv"],
    ["missing-file", "boreholes.csv", null, null],
    "boreholes.csv: must be a file in the survey folder, got nothing",
  ],
  [
    "a missing column",
    (to) => put(to.files["boreholes.csv"], 0, "borehole,chainage_m,offset_m,Elevation_m,depth_m"),
    ["missing-column", "boreholes.csv", 1, "elevation_m"],
    "boreholes.csv row 1, field elevation_m: must be a column of the file, got no such column " +
      '(the file has "Elevation_m"; case matters)',
  ],
  [
    "a file that is not there",
    (to) => delete to.files["strata.csv"],
    ["missing-file", "strata.csv", null, null],
    "strata.csv: must be a file in the survey folder, got nothing",
  ],
  [
    "two columns of one name",
    (to) => {
      to.files["strata.csv"] = to.files["strata.csv"]!.map((row) => `${row},`);
      to.files["strata.csv"]![0] = "borehole,top_m,base_m,soil,description,soil";
    },
    ["duplicate-column", "strata.csv", 1, "soil"],
    'strata.csv row 1, field soil: must be one column, got 2 columns "soil"',
  ],
  [
    "strata that overlap",
    cell("strata.csv", 3, "top_m", "1.5"),
    ["strata-overlap", "strata.csv", 3, "top_m"],
    "strata.csv row 3, field top_m: must be at least 1.6, the base of the stratum above (row 2), " +
      "got 1.5",
  ],
  [
    "a stratum upside down",
    cell("strata.csv", 4, "top_m", "8"),
    ["stratum-reversed", "strata.csv", 4, "top_m"],
    "strata.csv row 4, field top_m: must be above base_m (top_m < 8), got 8",
  ],
  [
    "strata of an unknown borehole",
    line("strata.csv", "BH7,0,2,Sa,"),
    ["unknown-borehole", "strata.csv", 5, "borehole"],
    'strata.csv row 5, field borehole: must be one of BH1, BH2, got "BH7"',
  ],
  [
    "a name in other letters",
    (to) => {
      to.files["Strata.csv"] = to.files["strata.csv"]!;
      delete to.files["strata.csv"];
    },
    ["missing-file", "strata.csv", null, null],
    "strata.csv: must be a file in the survey folder, got nothing " +
      '(the folder has "Strata.csv"; case matters)',
  ],
  [
    "a spreadsheet under a table's name",
    (to) => put(to.files, "strata.csv", ["PK\u0003\u0004\u0014\u0000\u0006"]),
    ["not-csv", "strata.csv", null, null],
    "strata.csv: must be a CSV file, got a spreadsheet or another zip file " +
      "(export the table as CSV)",
  ],
  [
    "a decimal comma in a file that has decimal points as well",
    (to) => {
      resourceOf(to, "laboratory").dialect = { delimiter: ";" };
      to.files["laboratory.csv"] = ["borehole;depth_m;fines_pct", "BH1;0,5;61.5"];
    },
    ["not-a-number", "laboratory.csv", 2, "depth_m"],
    'laboratory.csv row 2, field depth_m: must be a number, got "0,5" ' +
      '(decimal comma: give the field "decimalChar": ",")',
  ],
  [
    "laboratory values of an unknown borehole",
    line("laboratory.csv", "BH8,2,,40"),
    ["unknown-borehole", "laboratory.csv", 4, "borehole"],
    'laboratory.csv row 4, field borehole: must be one of BH1, BH2, got "BH8"',
  ],
  [
    "a decimal comma that could be thousands",
    (to) => {
      resourceOf(to, "laboratory").dialect = { delimiter: ";" };
      to.files["laboratory.csv"] = ["borehole;depth_m;resistivity_ohm_m", "BH1;1;1,234"];
    },
    ["not-a-number", "laboratory.csv", 2, "resistivity_ohm_m"],
    'laboratory.csv row 2, field resistivity_ohm_m: must be a number, got "1,234" ' +
      '(decimal comma: give the field "decimalChar": ",")',
  ],
  [
    "a unit in a column's name",
    (to) => put(to.files["laboratory.csv"], 0, "borehole,depth_m [m],fines_pct,resistivity_ohm_m"),
    ["missing-column", "laboratory.csv", 1, "depth_m"],
    "laboratory.csv row 1, field depth_m: must be a column of the file, got no such column " +
      '(the file has "depth_m [m]"; take the unit out of the name)',
  ],
  [
    "a bound where a value should be",
    cell("laboratory.csv", 2, "fines_pct", "<5"),
    ["not-a-number", "laboratory.csv", 2, "fines_pct"],
    'laboratory.csv row 2, field fines_pct: must be a number, got "<5" ' +
      "(a bound is no value; leave the cell blank and keep the bound in a text column)",
  ],
  [
    "a sample from below its borehole",
    cell("laboratory.csv", 2, "depth_m", "15"),
    ["sample-too-deep", "laboratory.csv", 2, "depth_m"],
    "laboratory.csv row 2, field depth_m: must be at most 9, the depth of borehole BH1, got 15",
  ],
];
