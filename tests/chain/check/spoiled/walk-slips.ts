import { put, resourceOf } from "../../../survey/support/survey-folder.js";
import {
  all,
  cells,
  channels,
  column,
  geometry,
  renamed,
  type Slip,
  survey,
  walk,
} from "./slips.js";

const noPositions = all(
  cells("walk.csv", "longitude", { 2: "", 3: "", 4: "", 6: "", 7: "" }),
  cells("walk.csv", "latitude", { 2: "", 3: "", 4: "", 6: "", 7: "" }),
);

const grid = (easting: string, northing: string) =>
  all(
    noPositions,
    column("easting", "number", (row) => (row === 3 ? easting : "")),
    column("northing", "number", (row) => (row === 3 ? northing : "")),
  );

/** Slips of a walk: its places, times and channels, its base checks, its centreline. */
export const walkSlips: readonly Slip[] = [
  [
    "degrees in the columns of the grid",
    grid("3.0003", "54"),
    [
      "walk.csv row 3, field easting: must be within 500 m of the centreline, got 3.0003, 54 (looks like degrees; those belong into longitude and latitude)",
    ],
  ],
  [
    "grid coordinates in kilometres",
    grid("500.02", "5983.09"),
    [
      "walk.csv row 3, field easting: must be within 500 m of the centreline, got 500.02, 5983.09 (looks like kilometres, expected metres)",
    ],
  ],
  [
    "an easting with its zone before it",
    grid("31500020", "5983090"),
    [
      "walk.csv row 3, field easting: must be within 500 m of the centreline, got 31500020, 5983090 (the zone's number stands before the easting; take it away)",
    ],
  ],
  [
    "grid coordinates in the columns of degrees",
    all(
      cells("walk.csv", "longitude", { 3: "500020" }),
      cells("walk.csv", "latitude", { 3: "5983090" }),
    ),
    [
      "walk.csv row 3, field longitude: must be within 500 m of the centreline, got 500020, 5983090 (looks like metres of the grid; those belong into easting and northing)",
    ],
  ],
  [
    "degrees and minutes in one number",
    all(
      cells("walk.csv", "longitude", { 3: "300.018" }),
      cells("walk.csv", "latitude", { 3: "5400" }),
    ),
    [
      "walk.csv row 3, field longitude: must be within 500 m of the centreline, got 300.018, 5400 (looks like degrees and minutes in one number; give degrees with decimals)",
    ],
  ],
  [
    "positions of four decimals",
    cells("walk.csv", "latitude", { 4: "54" }),
    ["walk.csv: positions have 4 decimals of a degree at the most, which is 11 m"],
  ],
  [
    "a walk 45 m beside the bank",
    walk(40, () => ({ latitude: "54.00041" })),
    ["walk.csv runs 46 m beside the centreline; another line, or another datum?"],
  ],
  [
    "a walk beyond the end of the centreline",
    walk(40, (_, i) => ({
      longitude: (3.0045 + i * 2e-5).toFixed(6),
      latitude: (54.0005 + i * 6e-6).toFixed(6),
    })),
    ["walk.csv: 98 % of its readings lie beyond the ends of the centreline, which go on straight"],
  ],
  [
    "a centreline of 39 km for a walk of 70 m",
    geometry([
      [3, 54],
      [3.3, 54],
      [3.6, 54],
    ]),
    ["the readings cover 0.07 km of the centreline's 39.3 km"],
  ],
  [
    "a centreline that crosses itself",
    geometry([
      [3, 54],
      [3.003, 54],
      [3.003, 54.001],
      [3.001, 54.001],
      [3.001, 53.9995],
    ]),
    ["centreline.geojson crosses itself: from coordinates[0] and from coordinates[3] on"],
  ],
  [
    "a centreline that is a ring",
    geometry([
      [3, 54],
      [3.003, 54],
      [3.003, 54.001],
      [3, 54.001],
      [3, 54],
    ]),
    ["centreline.geojson is a ring: where it closes, a place has two chainages"],
  ],
  [
    "a centreline with latitude first",
    geometry([
      [54, 3],
      [54, 3.003],
      [54.0005, 3.0045],
    ]),
    [
      "datapackage.json, field survey.crs: must be a system in metres that keeps distances within 0.5 % at the centreline, got a scale of 1.593 (longitude and latitude of the centreline look swapped)",
    ],
  ],
  [
    "a start of a million kilometres",
    geometry(
      [
        [3, 54],
        [3.0045, 54],
      ],
      { chainageStart_m: 1e9 },
    ),
    ["centreline.geojson, field chainageStart_m: must be within 10,000,000 m of 0, got 1000000000"],
  ],
  [
    "a start in kilometres and metres",
    geometry(
      [
        [3, 54],
        [3.0045, 54],
      ],
      { chainageStart_m: "12+300" },
    ),
    ['centreline.geojson, field chainageStart_m: must be a number, got "12+300"'],
  ],
  [
    "the zone beside the bank's",
    survey("crs", 32632),
    ["survey.crs, EPSG:32632, is not the UTM zone of the centreline, EPSG:32631"],
  ],
  [
    "a zone of the other half of the globe",
    survey("crs", 32731),
    ["survey.crs, EPSG:32731, is not the UTM zone of the centreline, EPSG:32631"],
  ],
  [
    "a code in words",
    survey("crs", "UTM 31N"),
    [
      'datapackage.json, field survey.crs: must be an EPSG code, such as 32631, got "UTM 31N"',
      "survey.crs is not given; EPSG:32631, the UTM zone of the centreline, is used",
    ],
  ],
  [
    "an escape sequence in a name",
    survey("embankment", "Sedge\u001b[31mholm"),
    [
      'datapackage.json, field survey.embankment: must be a text without control characters, got "Sedge\\u001b[31mholm"',
      "survey.crs is not given; EPSG:32631, the UTM zone of the centreline, is used",
    ],
  ],
  [
    "a walk at 130 m/s by its times",
    walk(40, (_, i) => ({ time: new Date(Date.UTC(2031, 9, 14, 8, 0, 0, 10 * i)).toISOString() })),
    ["walk.csv: by its times and positions it was walked at 131 m/s; which are off?"],
  ],
  [
    "an hour that the clock went back",
    walk(40, ({ time }, i) => (i < 20 ? {} : { time: time.replace("T08", "T07") })),
    [
      'walk.csv row 22, field time: must be no earlier than the row before (2031-10-14T08:00:19Z), got "2031-10-14T07:00:20Z" (an hour; did the offset or the clock change?)',
    ],
  ],
  [
    "two days in one file",
    walk(40, ({ time }, i) => (i < 20 ? {} : { time: time.replace("10-14", "10-16") })),
    ["walk.csv: a pause of 48 h; walks of two days in one file, or a clock set anew?"],
  ],
  [
    "a channel at the end of its range",
    walk(40, ({ c_hcp }) => ({ c_hcp: Math.min(20.3, Number(c_hcp)).toFixed(2) })),
    [
      "walk.csv: channel c_hcp reads 20.3, its largest value, in 17 of 40 rows; was it at the end of its range? placeReadings sets that aside",
    ],
  ],
  [
    "a channel that is another one's copy",
    walk(40, ({ c_hcp }) => ({ c_vcp: c_hcp })),
    [
      "walk.csv, field c_vcp: must be what its own coils read, not the column c_hcp, got the values of c_hcp in all 40 rows",
    ],
  ],
  [
    "a channel that is the latitude",
    walk(40, (_, i) => ({
      latitude: (54 + i * 1e-6).toFixed(6),
      c_vcp: (54 + i * 1e-6).toFixed(6),
    })),
    [
      "walk.csv, field c_vcp: must be what its own coils read, not the column latitude, got the values of latitude in all 40 rows",
    ],
  ],
  [
    "a channel that counts the rows",
    walk(40, (_, i) => ({ c_vcp: String(i + 1) })),
    [
      "walk.csv, field c_vcp: must be readings, got values that rise by 1 from row to row (is it a counter, or a column that was filled in?)",
    ],
  ],
  [
    "a channel of two values",
    walk(40, (_, i) => ({ c_hcp: String(20 + 10 * (i % 2)) })),
    ["walk.csv: channel c_hcp has 2 different values in 40 rows; was it rounded?"],
  ],
  [
    "a channel that stood still for 45 rows",
    walk(120, (_, i) => (i >= 30 && i < 75 ? { c_hcp: "20.11" } : {})),
    [
      "walk.csv: channel c_hcp reads 20.11 in 45 rows from row 32 to 76, from 2031-10-14T08:00:30Z on; did it stand still? placeReadings sets that aside",
    ],
  ],
  [
    "a channel below 0 beside one above",
    walk(40, ({ c_vcp }) => ({ c_vcp: `-${c_vcp}` })),
    [
      "walk.csv: channel c_vcp is below 0 in nearly all rows, others are not; is its sign the other one?",
    ],
  ],
  [
    "ten rows that were pasted in again",
    (to) => {
      walk(40)(to);
      const lines = to.files["walk.csv"]!;
      const again = lines
        .slice(5, 15)
        .map((text, i) => text.replace(/^[^,]+/, `2031-10-14T08:00:${40 + i}Z`));
      lines.push(...again);
    },
    [
      "walk.csv row 42: must be other readings than from row 6 on, got 8 rows or more the same",
      "2031-10, walk.csv: 6 positions far off the walk are replaced by the smoothed one.",
    ],
  ],
  [
    "names of channels that say the other orientation",
    (to) => {
      put(channels(to)[0], "orientation", "VCP");
      put(channels(to)[1], "orientation", "HCP");
    },
    [
      "walk.csv: channel c_hcp is declared VCP, and its name says otherwise",
      "walk.csv: channel c_vcp is declared HCP, and its name says otherwise",
    ],
  ],
  [
    "a name that says another frequency",
    renamed("c_hcp", "c_30khz_hcp"),
    ["walk.csv: channel c_30khz_hcp is declared 9000 Hz, and its name says otherwise"],
  ],
  [
    "a name that says another kind",
    renamed("c_hcp", "inphase_hcp"),
    ["walk.csv: channel inphase_hcp is declared conductivity, and its name says otherwise"],
  ],
  [
    "a name that every object answers to",
    renamed("c_hcp", "__proto__"),
    [
      "walk.csv, field __proto__: must be a name of its own, got a name that programs give a meaning",
    ],
  ],
  [
    "coils further apart than any ground lets through",
    (to) => Object.assign(channels(to)[0], { frequency_Hz: 900_000, separation_m: 50 }),
    [
      "datapackage.json, field resource walk, channel c_hcp: must be coils at most 10 skin depths of 20 ohm-m apart, got 50 m at 900000 Hz, 21 of them",
    ],
  ],
  [
    "a hundred channels too many",
    (to) => {
      for (let k = 0; k < 100; k++) {
        const field = `k${k}`;
        channels(to).push({ ...channels(to)[0], field, frequency_Hz: 2000 + k });
        column(field, "number", (row) => String(20 + ((7 * k + row * row) % 13)))(to);
      }
    },
    [
      "datapackage.json, field resource walk, channels: must be 100 channels at the most, got 102",
      "base-checks.csv: no checks of k0, k1, k2, k3, k4 and 95 more; their drift is known by crossings only",
    ],
  ],
  [
    "coils 5 m up",
    (to) => put(resourceOf(to, "readings").instrument, "height_m", 5),
    ["resource walk: coils 5 m above ground are higher than anybody carries them"],
  ],
  [
    "lines in other letters",
    column("line", "string", (row) => (row % 2 === 0 ? "crest" : "Crest")),
    ['walk.csv: "crest" and "Crest" are read as 2 lines; are they one?'],
  ],
  [
    "a campaign in the name of another month",
    (to) => {
      for (const role of ["readings", "base-checks"])
        put(resourceOf(to, role), "campaign", "2031-04");
      cells("field-notes.csv", "campaign", { 3: "2031-04" })(to);
    },
    ["walk.csv was read in 2031-10, and its campaign is 2031-04"],
  ],
  [
    "a campaign's name with a space after it",
    (to) => put(resourceOf(to, "base-checks"), "campaign", "2031-10 "),
    ['datapackage.json, field resources[2].campaign: must be one of 2031-10, got "2031-10 "'],
  ],
  [
    "base checks copied from another hour",
    (to) => {
      to.files["base-checks.csv"] = [
        "time,spot,c_hcp,c_vcp",
        "2031-10-14T08:50:00+01:00,B0,30.1,25.2",
        "2031-10-14T08:50:10+01:00,B0,30.3,25.1",
        "2031-10-14T09:10:00+01:00,B0,30.1,25.2",
        "2031-10-14T09:10:10+01:00,B0,30.3,25.1",
      ];
    },
    ["base-checks.csv: 2 rows with all the values of an earlier visit; copied?"],
  ],
  [
    "a spot in other letters",
    cells("base-checks.csv", "spot", { 3: "b0 " }),
    ['base-checks.csv: "B0" and "b0 " are read as 2 spots; are they one?'],
  ],
  [
    "base checks in other units",
    cells("base-checks.csv", "c_hcp", { 2: "30100", 3: "30400" }),
    ["base-checks.csv: checks of c_hcp are 1,300 times the readings; in one unit?"],
  ],
  [
    "base checks of one channel only",
    cells("base-checks.csv", "c_vcp", { 2: "" }),
    ["base-checks.csv: no checks of c_vcp; their drift is known by crossings only"],
  ],
];
