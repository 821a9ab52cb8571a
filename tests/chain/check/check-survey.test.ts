import { describe, expect, it } from "vitest";
import { checkSurvey } from "../../../lib/chain/check/check-survey.js";
import { checkText } from "../../../lib/chain/check/check-text.js";
import { faultLine } from "../../../lib/survey/check/faults.js";
import {
  inFolder,
  minimalSurvey,
  put,
  resourceOf,
  type SketchedFolder,
  setCell,
  wholeSurvey,
} from "../../survey/support/survey-folder.js";

type Place = readonly [code: string, file: string, row: number | null, field: string | null];
type Spoiling = readonly [
  what: string,
  spoil: (to: SketchedFolder) => void,
  place: Place,
  text: string,
];

const cell = (file: string, row: number, field: string, value: string) => (to: SketchedFolder) =>
  setCell(to, { file, row, field }, value);
const line = (file: string, text: string) => (to: SketchedFolder) => to.files[file]!.push(text);

const spoilings: readonly Spoiling[] = [
  [
    "a file that is not there",
    (to) => delete to.files["strata.csv"],
    ["missing-file", "strata.csv", null, null],
    "strata.csv: must be a file in the survey folder, got nothing",
  ],
  [
    "a boreholes file that is not there, and not every stratum as well",
    (to) => delete to.files["boreholes.csv"],
    ["missing-file", "boreholes.csv", null, null],
    "boreholes.csv: must be a file in the survey folder, got nothing",
  ],
  [
    "an electrodes file that is not there, and not every reading as well",
    (to) => delete to.files["resistivity-electrodes.csv"],
    ["missing-file", "resistivity-electrodes.csv", null, null],
    "resistivity-electrodes.csv: must be a file in the survey folder, got nothing",
  ],
  [
    "a readings file that is not there, and not every note of its campaign as well",
    (to) => delete to.files["walk.csv"],
    ["missing-file", "walk.csv", null, null],
    "walk.csv: must be a file in the survey folder, got nothing",
  ],
  [
    "an instrument that is not there",
    (to) => delete resourceOf(to, "readings").instrument,
    ["missing-property", "datapackage.json", null, "resources[1].instrument"],
    "datapackage.json, field resources[1].instrument: must be given as an object, got nothing " +
      "(resource walk)",
  ],
  [
    "an empty file",
    (to) => put(to.files, "incidents.csv", []),
    ["empty-file", "incidents.csv", null, null],
    "incidents.csv: must be filled, got an empty file",
  ],
  [
    "a readings file with nothing but its header",
    (to) => to.files["walk.csv"]!.splice(1),
    ["no-rows", "walk.csv", null, null],
    "walk.csv: must be one reading or more, got no rows",
  ],
  [
    "a missing column",
    (to) => put(to.files["boreholes.csv"], 0, "borehole,chainage_m,offset_m,Elevation_m,depth_m"),
    ["missing-column", "boreholes.csv", 1, "elevation_m"],
    "boreholes.csv row 1, field elevation_m: must be a column of the file, got no such column " +
      '(the file has "Elevation_m"; case matters)',
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
    "a quote that is never closed",
    line("incidents.csv", '2029-01-01,100,crack,"dry'),
    ["bad-quotes", "incidents.csv", 3, null],
    "incidents.csv row 3: must be quoted properly, got Quoted field unterminated",
  ],
  [
    "a word where a number should be",
    cell("walk.csv", 4, "c_hcp", "n/a"),
    ["not-a-number", "walk.csv", 4, "c_hcp"],
    'walk.csv row 4, field c_hcp: must be a number, got "n/a" (leave the cell blank, or list the ' +
      'mark under "missingValues")',
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
    "latitude and longitude in each other's place",
    cell("walk.csv", 2, "longitude", "54,3.0001"),
    ["ragged-row", "walk.csv", 2, null],
    "walk.csv row 2: must be 5 cells long, as the header, got 6 cells",
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
    "a day that the calendar does not have",
    cell("water-levels.csv", 2, "time", "2031-02-30T09:00:10Z"),
    ["not-a-time", "water-levels.csv", 2, "time"],
    "water-levels.csv row 2, field time: must be an ISO 8601 time, such as " +
      '2031-10-14T09:30:00+01:00, got "2031-02-30T09:00:10Z"',
  ],
  [
    "times that run backwards",
    cell("walk.csv", 6, "time", "2031-10-14T09:00:00+01:00"),
    ["time-backwards", "walk.csv", 6, "time"],
    "walk.csv row 6, field time: must be no earlier than the row before (2031-10-14T08:00:30Z), " +
      'got "2031-10-14T08:00:00Z"',
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
    "a channel without unit",
    (to) => delete resourceOf(to, "readings").instrument.channels[1].unit,
    ["channel-unit", "datapackage.json", null, "resources[1].instrument.channels[1].unit"],
    "datapackage.json, field resources[1].instrument.channels[1].unit: must be given as one of " +
      "ppm, mS/m, got nothing (resource walk, channel c_vcp)",
  ],
  [
    "a channel in a unit of its own",
    (to) => put(resourceOf(to, "readings").instrument.channels[0], "unit", "S/m"),
    ["channel-unit", "datapackage.json", null, "resources[1].instrument.channels[0].unit"],
    "datapackage.json, field resources[1].instrument.channels[0].unit: must be one of ppm, mS/m, " +
      'got "S/m" (resource walk, channel c_hcp)',
  ],
  [
    "a channel whose unit does not fit its kind",
    (to) => put(resourceOf(to, "readings").instrument.channels[0], "unit", "ppm"),
    ["unit-kind", "walk.csv", null, "c_hcp"],
    "walk.csv, field c_hcp: must be in mS/m, being conductivity, got ppm",
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
    "laboratory values of an unknown borehole",
    line("laboratory.csv", "BH8,2,,40"),
    ["unknown-borehole", "laboratory.csv", 4, "borehole"],
    'laboratory.csv row 4, field borehole: must be one of BH1, BH2, got "BH8"',
  ],
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
    "base checks of a campaign that there is not",
    (to) => put(resourceOf(to, "base-checks"), "campaign", "2031-11"),
    ["unknown-campaign", "datapackage.json", null, "resources[2].campaign"],
    'datapackage.json, field resources[2].campaign: must be one of 2031-10, got "2031-11"',
  ],
  [
    "a walk that is listed twice",
    (to) => to.package.resources.push({ ...resourceOf(to, "readings"), name: "again" }),
    ["duplicate-path", "datapackage.json", null, "resources[13].path"],
    "datapackage.json, field resources[13].path: must be another path than that of resource walk, " +
      'got "walk.csv"',
  ],
  [
    "a walk that is there twice",
    (to) => {
      const copy = { name: "again", path: "copy.csv" };
      to.package.resources.push({ ...resourceOf(to, "readings"), ...copy });
      to.files["copy.csv"] = [...to.files["walk.csv"]!];
    },
    ["duplicate-pass", "copy.csv", null, null],
    "copy.csv: must be another walk than walk.csv, got the same content",
  ],
  [
    "two centrelines",
    (to) => {
      const second = { name: "second", path: "second.geojson", role: "centreline" };
      to.package.resources.push(second);
      to.files["second.geojson"] = to.files["centreline.geojson"]!;
    },
    ["two-centrelines", "datapackage.json", null, "resources"],
    "datapackage.json, field resources: must be a list with one resource of role centreline, got 2",
  ],
  [
    "no centreline",
    (to) => to.package.resources.shift(),
    ["no-centreline", "datapackage.json", null, "resources"],
    "datapackage.json, field resources: must be a list with one resource of role centreline, " +
      "got none",
  ],
  [
    "no readings",
    (to) => {
      to.package.resources.splice(1, 2);
      to.files["field-notes.csv"]!.pop();
    },
    ["no-readings", "datapackage.json", null, "resources"],
    "datapackage.json, field resources: must be a list with one resource of role readings or more, " +
      "got none",
  ],
  [
    "a role that there is not",
    (to) => put(resourceOf(to, "incidents"), "role", "events"),
    ["unknown-role", "datapackage.json", null, "resources[11].role"],
    "datapackage.json, field resources[11].role: must be one of centreline, readings, base-checks, " +
      "field-notes, soil-temperature, water-levels, resistivity-electrodes, resistivity-readings, " +
      'boreholes, strata, laboratory, incidents, cross-section, got "events" (resource incidents)',
  ],
  [
    "a path that leaves the folder",
    (to) => put(resourceOf(to, "incidents"), "path", "../incidents.csv"),
    ["unsafe-path", "datapackage.json", null, "resources[11].path"],
    "datapackage.json, field resources[11].path: must be a relative path within the survey folder, " +
      'got "../incidents.csv" (resource incidents)',
  ],
  [
    "a map of the world for distances",
    (to) => put(to.package.survey, "crs", 3857),
    ["crs-unfit", "datapackage.json", null, "survey.crs"],
    "datapackage.json, field survey.crs: must be a system fit for distances, got EPSG:3857 " +
      "(a Mercator map of the world stretches distances)",
  ],
  [
    "a code without its definition",
    (to) => put(to.package.survey, "crs", "EPSG:28992"),
    ["crs-unknown", "datapackage.json", null, "survey.crs"],
    'datapackage.json, field survey.crs: must be a UTM zone, or come with "crsDefinition", a PROJ ' +
      "string, got EPSG:28992",
  ],
  [
    "a zone on the other side of the globe",
    (to) => put(to.package.survey, "crs", 32655),
    ["crs-unfit", "datapackage.json", null, "survey.crs"],
    "datapackage.json, field survey.crs: must be a system in metres that keeps distances within " +
      "0.5 % at the centreline, got a scale of 1.065 (another zone, or coordinates that are not in " +
      "metres)",
  ],
  [
    "a centreline that is a polygon",
    (to) => put(to.files, "centreline.geojson", ['{"type": "Polygon", "coordinates": []}']),
    ["centreline-form", "centreline.geojson", null, null],
    'centreline.geojson: must be GeoJSON with one LineString, got "Polygon"',
  ],
  [
    "a centreline in metres",
    (to) =>
      put(to.files, "centreline.geojson", [
        '{"type": "LineString", "coordinates": [[500000, 5983000], [500200, 5983000]]}',
      ]),
    ["centreline-vertex", "centreline.geojson", null, "coordinates[0]"],
    "centreline.geojson, field coordinates[0]: must be a longitude from -180 to 180 and a latitude " +
      "from -90 to 90, degrees, got [500000,5983000] (RFC 7946 has longitude first, WGS 84)",
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
    "a water level of 9999",
    cell("water-levels.csv", 3, "level_m", "9999"),
    ["mark-for-none", "water-levels.csv", 3, "level_m"],
    "water-levels.csv row 3, field level_m: must be a reading, not a mark for none, got 9999 " +
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
    "a unit in a column's name",
    (to) => put(to.files["laboratory.csv"], 0, "borehole,depth_m [m],fines_pct,resistivity_ohm_m"),
    ["missing-column", "laboratory.csv", 1, "depth_m"],
    "laboratory.csv row 1, field depth_m: must be a column of the file, got no such column " +
      '(the file has "depth_m [m]"; take the unit out of the name)',
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
    "the page of a sign-in in the place of a download",
    (to) => put(to.files, "walk.csv", ["<!DOCTYPE html>", "<html><body>Sign in</body></html>"]),
    ["not-csv", "walk.csv", null, null],
    "walk.csv: must be a CSV file, got a web page (export the table as CSV)",
  ],
  [
    "a number with its unit",
    cell("walk.csv", 4, "c_hcp", "23.1 mS/m"),
    ["not-a-number", "walk.csv", 4, "c_hcp"],
    'walk.csv row 4, field c_hcp: must be a number, got "23.1 mS/m" ' +
      "(give the number alone; its unit is known)",
  ],
  [
    "a bound where a value should be",
    cell("laboratory.csv", 2, "fines_pct", "<5"),
    ["not-a-number", "laboratory.csv", 2, "fines_pct"],
    'laboratory.csv row 2, field fines_pct: must be a number, got "<5" ' +
      "(a bound is no value; leave the cell blank and keep the bound in a text column)",
  ],
  [
    "a sign that a word processor made a dash of",
    cell("walk.csv", 4, "c_hcp", "−3.2"),
    ["not-a-number", "walk.csv", 4, "c_hcp"],
    'walk.csv row 4, field c_hcp: must be a number, got "−3.2" ' +
      "(the sign is a dash; write a minus, -)",
  ],
  [
    "a chainage as kilometres and metres",
    cell("incidents.csv", 2, "chainage_m", "0+120"),
    ["not-a-number", "incidents.csv", 2, "chainage_m"],
    'incidents.csv row 2, field chainage_m: must be a number, got "0+120" ' +
      "(looks like kilometres and metres; give metres)",
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
    "a frequency in kilohertz",
    (to) => put(resourceOf(to, "readings").instrument.channels[0], "frequency_Hz", 9),
    ["unit-suspicious", "datapackage.json", null, "resource walk, channel c_hcp, frequency_Hz"],
    "datapackage.json, field resource walk, channel c_hcp, frequency_Hz: must be in Hz, got 9 " +
      "(looks like kHz, expected Hz)",
  ],
  [
    "a coil spacing in centimetres",
    (to) => put(resourceOf(to, "readings").instrument.channels[1], "separation_m", 180),
    ["unit-suspicious", "datapackage.json", null, "resource walk, channel c_vcp, separation_m"],
    "datapackage.json, field resource walk, channel c_vcp, separation_m: must be in m, got 180 " +
      "(looks like cm, expected m)",
  ],
  [
    "a coil height in centimetres",
    (to) => put(resourceOf(to, "readings").instrument, "height_m", 90),
    ["unit-suspicious", "datapackage.json", null, "resource walk, height_m"],
    "datapackage.json, field resource walk, height_m: must be in m, got 90 " +
      "(looks like cm, expected m)",
  ],
  [
    "a channel copied with all it is",
    (to) => put(resourceOf(to, "readings").instrument.channels[1], "orientation", "HCP"),
    ["duplicate-channel", "walk.csv", null, "c_vcp"],
    "walk.csv, field c_vcp: must be another kind, frequency, spacing or orientation than every " +
      "other channel, got those of c_hcp",
  ],
  [
    "a sample from below its borehole",
    cell("laboratory.csv", 2, "depth_m", "15"),
    ["sample-too-deep", "laboratory.csv", 2, "depth_m"],
    "laboratory.csv row 2, field depth_m: must be at most 9, the depth of borehole BH1, got 15",
  ],
  [
    "two electrodes in one place",
    cell("resistivity-electrodes.csv", 3, "x_m", "0"),
    ["electrode-place", "resistivity-electrodes.csv", 3, "x_m"],
    "resistivity-electrodes.csv row 3, field x_m: must be another place than that of electrode 1, " +
      "got 0",
  ],
  [
    "a crest below the ground it stands on",
    (to) => {
      to.package.survey.crestElevation_m = 2;
      to.package.survey.foundationElevation_m = 6;
    },
    ["crest-below-ground", "datapackage.json", null, "survey.crestElevation_m"],
    "datapackage.json, field survey.crestElevation_m: must be above foundationElevation_m (6), " +
      "got 2",
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
      '"2031-10-14T07:50:00Z" (7,168 days away; 1,024 weeks: a receiver\'s count of weeks ran over)',
  ],
];

describe("checkSurvey", () => {
  it("finds no fault in a sound survey of every role, nor in a minimal one", async () => {
    for (const survey of [wholeSurvey(), minimalSurvey()]) {
      expect((await inFolder(survey, checkSurvey)).faults).toEqual([]);
    }
  });

  it("has ninety spoiled folders or more to name", () => {
    expect(spoilings.length).toBeGreaterThanOrEqual(90);
  });

  it.each(spoilings)("names %s", async (_, spoil, [code, file, row, field], text) => {
    const survey = wholeSurvey();
    spoil(survey);
    const { faults } = await inFolder(survey, checkSurvey);
    expect(faults).toMatchObject([{ code, file, row, field, more: 0 }]);
    expect(faultLine(faults[0]!)).toBe(text);
  });

  it("says which channels were not recorded", async () => {
    const survey = wholeSurvey();
    const rows = survey.files["walk.csv"]!;
    for (let i = 0; i < 30; i++) rows.push(`2031-10-14T09:01:${i + 10}+01:00,,,,19.5`);
    for (const row of rows.keys()) {
      if (row === 0) continue;
      setCell(survey, { file: "walk.csv", row: row + 1, field: "c_hcp" }, "");
      setCell(survey, { file: "walk.csv", row: row + 1, field: "c_vcp" }, "19.5");
    }
    const { cautions, faults } = await inFolder(survey, checkSurvey);
    expect(faults).toEqual([]);
    expect(cautions).toContain("walk.csv: channel c_hcp has no value in any row");
    expect(cautions).toContain(
      "walk.csv: channel c_vcp has one value, 19.5, in all rows; was it recorded?",
    );
  });

  it("leaves a large reading alone that others come near", async () => {
    const survey = wholeSurvey();
    for (const row of [2, 3, 4, 5]) {
      setCell(survey, { file: "walk.csv", row, field: "c_hcp" }, String(4000 + row));
    }
    setCell(survey, { file: "walk.csv", row: 6, field: "c_hcp" }, "9999");
    expect((await inFolder(survey, checkSurvey)).faults).toEqual([]);
  });

  it("names a folder without datapackage.json and a folder that is not there", async () => {
    const { faults } = await checkSurvey("no/such/folder");
    expect(faults.map(faultLine)).toEqual([
      "datapackage.json: must be a file in the survey folder, got nothing",
    ]);
  });

  it("collects the faults of all files at once", async () => {
    const survey = wholeSurvey();
    delete survey.files["water-levels.csv"];
    setCell(survey, { file: "walk.csv", row: 2, field: "c_hcp" }, "x");
    setCell(survey, { file: "walk.csv", row: 3, field: "c_vcp" }, "y");
    setCell(survey, { file: "strata.csv", row: 4, field: "top_m" }, "8");
    delete resourceOf(survey, "incidents").role;
    const { faults } = await inFolder(survey, checkSurvey);
    expect(faults.map(({ code }) => code).sort()).toEqual([
      "missing-file",
      "missing-property",
      "not-a-number",
      "not-a-number",
      "stratum-reversed",
    ]);
  });

  it("lists twenty faults of a kind and counts the rest", async () => {
    const survey = minimalSurvey();
    const lines = survey.files["walk.csv"]!;
    for (let i = 0; i < 1254; i++) lines.push("2031-10-14T09:01:00+01:00,3.0011,54,n/a,19");
    const { faults } = await inFolder(survey, checkSurvey);
    expect(faults).toHaveLength(20);
    expect(faultLine(faults.at(-1)!)).toBe(
      'walk.csv row 27, field c_hcp: must be a number, got "n/a" (leave the cell blank, or list ' +
        'the mark under "missingValues"), and 1,234 more like it',
    );
  });

  it("reads invalid JSON as one fault", async () => {
    const survey = minimalSurvey();
    survey.files["datapackage.json"] = ['{ "resources": ['];
    const { faults } = await inFolder(survey, checkSurvey);
    expect(faults).toMatchObject([{ code: "invalid-json", file: "datapackage.json" }]);
  });

  it("says what is there and what each step has to work with", async () => {
    const { summary, steps } = await inFolder(wholeSurvey(), checkSurvey);
    expect(summary[0]).toMatchObject({
      file: "walk.csv",
      role: "readings",
      campaign: "2031-10",
      rows: 6,
      from: "2031-10-14T08:00:00Z",
      to: "2031-10-14T08:00:50Z",
    });
    expect(summary.map(({ rows }) => rows)).toEqual([6, 2, 2, 3, 2, 4, 2, 2, 3, 2, 1, 2]);
    expect(steps.map(({ step, ready }) => `${step} ${ready}`)).toEqual([
      "drift true",
      "interference true",
      "depth true",
      "blocks true",
      "campaigns false",
      "sections false",
      "seepage true",
      "boreholes false",
    ]);
  });

  it("gives a plain text with faults, files and steps", async () => {
    const survey = wholeSurvey();
    setCell(survey, { file: "walk.csv", row: 4, field: "c_hcp" }, "n/a");
    const text = checkText(await inFolder(survey, checkSurvey));
    expect(text).toContain('1 fault:\n  walk.csv row 4, field c_hcp: must be a number, got "n/a"');
    expect(text).toMatch(/walk\.csv {2,}readings {2,}2031-10 {2,}6 rows/);
    expect(text).toMatch(/campaigns {2,}no {2,}1 campaign; a comparison takes two/);
  });
});
