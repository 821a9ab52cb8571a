import {
  put,
  resourceOf,
  type SketchedFolder,
  setCell,
} from "../../../survey/support/survey-folder.js";
import { cell, type Spoiling } from "./spoiling.js";

const rows = [2, 3, 4, 5, 6, 7];

const everyRow =
  (file: string, field: string, of: (row: number) => string) => (to: SketchedFolder) => {
    for (const row of rows) setCell(to, { file, row, field }, of(row));
  };

/** One column more in the walk. */
const column = (name: string, of: (row: number) => string) => (to: SketchedFolder) => {
  const lines = to.files["walk.csv"]!;
  for (const [i, text] of lines.entries()) {
    lines[i] = `${text},${i === 0 ? name : of(i + 1)}`;
  }
  resourceOf(to, "readings").schema.fields.push({ name, type: "number" });
};

const walkOf = (to: SketchedFolder, more: object) => {
  to.package.resources.push({ ...resourceOf(to, "readings"), name: "again", ...more });
};

const line = (coordinates: readonly (readonly number[])[]) => (to: SketchedFolder) =>
  put(to.files, "centreline.geojson", [JSON.stringify({ type: "LineString", coordinates })]);

/** What cannot be, though each number is one: an appendix would choke on it. */
export const outOfReachFaults: readonly Spoiling[] = [
  [
    "a coil spacing in millimetres",
    (to) => put(resourceOf(to, "readings").instrument.channels[1], "separation_m", 1800),
    ["unit-suspicious", "datapackage.json", null, "resource walk, channel c_vcp, separation_m"],
    "datapackage.json, field resource walk, channel c_vcp, separation_m: must be in m, got 1800 " +
      "(looks like mm, expected m)",
  ],
  [
    "a coil spacing in kilometres",
    (to) => put(resourceOf(to, "readings").instrument.channels[1], "separation_m", 0.0018),
    ["unit-suspicious", "datapackage.json", null, "resource walk, channel c_vcp, separation_m"],
    "datapackage.json, field resource walk, channel c_vcp, separation_m: must be in m, got 0.0018",
  ],
  [
    "a frequency of a terahertz",
    (to) => put(resourceOf(to, "readings").instrument.channels[0], "frequency_Hz", 1e12),
    ["unit-suspicious", "datapackage.json", null, "resource walk, channel c_hcp, frequency_Hz"],
    "datapackage.json, field resource walk, channel c_hcp, frequency_Hz: must be in Hz, got " +
      "1000000000000",
  ],
  [
    "heights in centimetres in some rows",
    column("height_m", (row) => (row === 5 ? "90" : "0.9")),
    ["unit-suspicious", "walk.csv", 5, "height_m"],
    "walk.csv row 5, field height_m: must be in m, got 90 (looks like cm, expected m)",
  ],
  [
    "readings below 0 everywhere",
    (to) => {
      everyRow("walk.csv", "c_hcp", (row) => `-2${row}`)(to);
      everyRow("walk.csv", "c_vcp", (row) => `-1${row}`)(to);
    },
    ["all-negative", "walk.csv", null, "c_hcp"],
    "walk.csv, field c_hcp: must be above 0 over conductive ground, as quadrature and " +
      "conductivity are here, got readings below 0 in every channel (is the sign the other one, " +
      "or was the zero set over conductive ground?)",
  ],
  [
    "a walk that is there twice, its rows in another order of columns",
    (to) => {
      walkOf(to, { path: "copy.csv" });
      to.files["copy.csv"] = to.files["walk.csv"]!.map((text) => `${text},`);
      put(to.files["copy.csv"], 0, `${to.files["walk.csv"]![0]},note`);
    },
    ["duplicate-pass", "copy.csv", null, null],
    "copy.csv: must be another walk than walk.csv, got 5 of 5 readings the same",
  ],
  [
    "a walk that is given for two campaigns",
    (to) => {
      walkOf(to, { path: "copy.csv", campaign: "2032-10" });
      to.files["copy.csv"] = to.files["walk.csv"]!.map((text) => text.replace("2031", "2032"));
    },
    ["duplicate-pass", "copy.csv", null, null],
    "copy.csv: must be another walk than walk.csv, got 4 of 5 readings the same",
  ],
  [
    "a second walk of the campaign that is dated a year away",
    (to) => {
      walkOf(to, { path: "later.csv" });
      to.files["later.csv"] = to.files["walk.csv"]!.map((text) =>
        text.replace("2031", "2032").replace(/(\d\d\.\d),(\d\d\.\d)?$/, "9$1,9$2"),
      );
    },
    ["other-campaign", "later.csv", null, "time"],
    "later.csv, field time: must be of one campaign with walk.csv, 2031-10-14, got " +
      '"2032-10-14" (366 days apart; give it a campaign of its own, or is its clock wrong?)',
  ],
  [
    "a year of antiquity",
    cell("walk.csv", 2, "time", "0100-10-14T09:00:00+01:00"),
    ["year-range", "walk.csv", 2, "time"],
    'walk.csv row 2, field time: must be of the years 1950 to 2100, got "0100-10-14T08:00:00Z"',
  ],
  [
    "a year far ahead",
    cell("walk.csv", 7, "time", "9999-10-14T09:00:50+01:00"),
    ["year-range", "walk.csv", 7, "time"],
    'walk.csv row 7, field time: must be of the years 1950 to 2100, got "9999-10-14T08:00:50Z"',
  ],
  [
    "times that are all one instant",
    everyRow("walk.csv", "time", () => "2031-10-14T09:00:00+01:00"),
    ["times-frozen", "walk.csv", null, "time"],
    "walk.csv, field time: must be the times of a walk, got one time in all rows " +
      "(2031-10-14T08:00:00Z) (leave the cells blank where the time was not recorded)",
  ],
  [
    "a centreline that reaches the other side of the globe",
    line([
      [3, 54],
      [3.003, 54],
      [-177, -54],
    ]),
    ["centreline-extent", "centreline.geojson", null, "coordinates[2]"],
    "centreline.geojson, field coordinates[2]: must be within 300 km of the first vertex, got " +
      "20,016 km",
  ],
  [
    "a centreline that doubles back",
    line([
      [3, 54],
      [3.003, 54],
      [3.0002, 54],
    ]),
    ["centreline-turns-back", "centreline.geojson", null, "coordinates[1]"],
    "centreline.geojson, field coordinates[1]: must be a vertex that the line goes on from, got a " +
      "turn of 180 degrees (the line goes back on itself: chainage would be told twice)",
  ],
  [
    "a centreline of 200,000 vertices",
    line(Array.from({ length: 200_000 }, (_, i) => [3 + i * 1e-7, 54])),
    ["centreline-vertices", "centreline.geojson", null, null],
    "centreline.geojson: must be a line of 20,000 vertices at the most, got 200,000 (simplify it " +
      "to 0.1 m)",
  ],
  [
    "a centreline nested a thousand deep",
    (to) => {
      const nested = `${"[".repeat(1000)}3${"]".repeat(1000)}`;
      const text = `{"type": "LineString", "coordinates": [${nested}, [3, 54]]}`;
      put(to.files, "centreline.geojson", [text]);
    },
    ["json-depth", "centreline.geojson", null, null],
    "centreline.geojson: must be JSON nested 100 deep at the most, got deeper nesting",
  ],
  [
    "a row of five million letters",
    (to) => to.files["incidents.csv"]!.push(`2027-02-19,121,crack,${"x".repeat(5_000_000)}`),
    ["row-length", "incidents.csv", 3, null],
    "incidents.csv row 3: must be a row of 2,000,000 letters at the most, got a longer one (is a " +
      "quote left open, or is the file no table?)",
  ],
  [
    "a walk without any position",
    (to) => {
      everyRow("walk.csv", "longitude", () => "")(to);
      everyRow("walk.csv", "latitude", () => "")(to);
    },
    ["no-positions", "walk.csv", null, "longitude"],
    "walk.csv, field longitude: must be given in some rows: without any position a walk cannot " +
      "be placed along the bank, got blank cells in all rows",
  ],
  [
    "two systems of coordinates that contradict each other",
    (to) => {
      column("easting", (row) => String(500_100 + 10 * row))(to);
      column("northing", () => "5983500")(to);
    },
    ["positions-disagree", "walk.csv", null, "easting"],
    "walk.csv, field easting: must be where longitude and latitude are, in EPSG:32631, got a " +
      "median of 110 m away (is survey.crs that of the columns?)",
  ],
  [
    "a borehole's level in centimetres",
    cell("boreholes.csv", 2, "elevation_m", "620"),
    ["elevation-far", "boreholes.csv", 2, "elevation_m"],
    "boreholes.csv row 2, field elevation_m: must be within 100 m of the bank's level there, " +
      "6.1 m, got 620",
  ],
  [
    "soil temperatures in kelvin",
    cell("soil-temperature.csv", 2, "temperature_degC", "285.6"),
    ["out-of-range", "soil-temperature.csv", 2, "temperature_degC"],
    "soil-temperature.csv row 2, field temperature_degC: must be at most 60, got 285.6",
  ],
];
