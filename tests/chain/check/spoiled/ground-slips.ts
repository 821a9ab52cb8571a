import { put, resourceOf } from "../../../survey/support/survey-folder.js";
import { all, cells, type Slip, survey } from "./slips.js";

const laboratory =
  (...lines: readonly string[]): Slip[1] =>
  (to) =>
    put(to.files, "laboratory.csv", [...lines]);

const spreads = (field: string, value: string) =>
  cells("resistivity-readings.csv", field, { 2: value, 3: value });

/** Slips of the bank's shape, of water, holes, soils, lines and notes. */
export const groundSlips: readonly Slip[] = [
  [
    "a crest's width in centimetres",
    survey("crestWidth_m", 400),
    [
      "datapackage.json, field survey.crestWidth_m: must be at most 60, got 400 (looks like cm, expected m)",
    ],
  ],
  [
    "a slope in per cent",
    survey("watersideSlope", 33),
    [
      "datapackage.json, field survey.watersideSlope: must be at most 20, got 33 (a slope is horizontal per 1 vertical, not a percentage or an angle)",
    ],
  ],
  [
    "a bank 300 m high",
    all(survey("foundationElevation_m", -300), survey("crestElevation_m", 6.2)),
    [
      "datapackage.json, field survey.crestElevation_m: must be at most 60 m above foundationElevation_m (-300), got 6.2",
    ],
  ],
  [
    "a crest that jumps by 56 m",
    cells("cross-section.csv", "crestElevation_m", { 3: "62" }),
    [
      "cross-section.csv row 3, field crestElevation_m: must be near that of row 2 of cross-section.csv, 200 m before, got 55.8 m off it",
      "boreholes.csv row 3: borehole BH2 starts 45 m off the bank",
    ],
  ],
  [
    "a slope in per cent in a table",
    (to) =>
      put(to.files, "cross-section.csv", [
        "chainage_m,crestElevation_m,landsideSlope",
        "0,6.2,2.5",
        "200,6,40",
      ]),
    [
      "cross-section.csv row 3, field landsideSlope: must be at most 20, got 40 (a slope is horizontal per 1 vertical, not a percentage or an angle)",
    ],
  ],
  [
    "a design level in centimetres",
    survey("designWaterLevel_m", 560),
    [
      "datapackage.json, field survey.designWaterLevel_m: must be within 25 m of the crest, 6.2 m, got 560 (another unit, or another datum?)",
    ],
  ],
  [
    "a design level above the crest",
    survey("designWaterLevel_m", 9.6),
    ["survey.designWaterLevel_m, 9.6, is above the crest, 6.2 m"],
  ],
  [
    "a design level below the toe",
    all(survey("foundationElevation_m", 3), survey("designWaterLevel_m", 1)),
    ["survey.designWaterLevel_m, 1, is below the ground at the toe, 3"],
  ],
  [
    "a river's level in centimetres",
    cells("water-levels.csv", "level_m", { 2: "120" }),
    [
      "water-levels.csv row 2, field level_m: must be within 25 m of the crest, 6.2 m, got 120 (another unit, or another datum?)",
    ],
  ],
  [
    "a river above the crest",
    cells("water-levels.csv", "level_m", { 2: "8.4" }),
    ["water-levels.csv row 2: a level of 8.4 m is above the crest, 6.2 m"],
  ],
  [
    "two levels of a point at one time",
    (to) => to.files["water-levels.csv"]!.push("2031-10-14T08:00:00Z,river,2.9,"),
    [
      "water-levels.csv row 4, field level_m: must be 1.2, as in row 2 (river at 2031-10-14T08:00:00Z), got 2.9",
    ],
  ],
  [
    "a piezometer that stands nowhere",
    cells("water-levels.csv", "chainage_m", { 3: "" }),
    ["water-levels.csv: P1 without a chainage; not placed along the bank"],
  ],
  [
    "the river in other letters",
    (to) => to.files["water-levels.csv"]!.push("2031-10-15T08:00:00Z,River,1.3,60"),
    ['water-levels.csv: "river" and "River" are read as 2 points; are they one?'],
  ],
  [
    "a borehole 400 m away",
    cells("boreholes.csv", "offset_m", { 2: "400" }),
    ["boreholes.csv row 2: borehole BH1 is 400 m from the centreline"],
  ],
  [
    "a borehole's depth in centimetres",
    cells("boreholes.csv", "depth_m", { 3: "800" }),
    ["boreholes.csv row 3, field depth_m: must be in m, got 800 (looks like cm, expected m)"],
  ],
  [
    "a borehole as deep as a well",
    cells("boreholes.csv", "depth_m", { 3: "90" }),
    ["boreholes.csv row 3: borehole BH2 is 90 m deep; in m?"],
  ],
  [
    "boreholes in other letters",
    (to) => to.files["boreholes.csv"]!.push("bh-1,70,0,6.2,9"),
    ['boreholes.csv: "BH1" and "bh-1" are read as 2 boreholes; are they one?'],
  ],
  [
    "a stretch of a log that is not there",
    cells("strata.csv", "top_m", { 3: "3.6" }),
    ["strata.csv row 3: nothing is logged between 1.6 and 3.6 m"],
  ],
  [
    "a soil in words",
    cells("strata.csv", "soil", { 2: "Topsoil" }),
    ['strata.csv: "Topsoil" is no soil in the letters of ISO 14688-1, such as siCl'],
  ],
  [
    "a soil in capitals",
    cells("strata.csv", "soil", { 2: "SICL" }),
    ['strata.csv: "SICL" is no soil in the letters of ISO 14688-1, such as siCl'],
  ],
  [
    "a conductivity of water in m a day",
    laboratory("borehole,depth_m,hydraulic_conductivity_m_per_s", "BH1,0.5,25"),
    [
      "laboratory.csv row 2, field hydraulic_conductivity_m_per_s: must be a soil's, 0 to 10, got 25",
    ],
  ],
  [
    "fines as shares",
    laboratory("borehole,depth_m,fines_pct", "BH1,0.5,0.61", "BH2,2,0.4"),
    ["laboratory.csv: every fines_pct is 1 at the most; are they shares, not percentages?"],
  ],
  [
    "water contents of 4100 %",
    laboratory("borehole,depth_m,water_content_pct", "BH1,0.5,4100"),
    ["laboratory.csv row 2, field water_content_pct: must be a soil's, 0 to 1,000, got 4100"],
  ],
  [
    "a resistivity of a soil of millions",
    cells("laboratory.csv", "resistivity_ohm_m", { 2: "2850000" }),
    [
      "laboratory.csv row 2, field resistivity_ohm_m: must be a soil's, 0.2 to 100,000, got 2850000",
    ],
  ],
  [
    "an incident of antiquity",
    cells("incidents.csv", "date", { 2: "0202-02-19" }),
    ['incidents.csv row 2, field date: must be of the years 1700 to 2100, got "0202-02-19"'],
  ],
  [
    "electrodes' places in centimetres",
    cells("resistivity-electrodes.csv", "x_m", { 2: "0", 3: "200", 4: "400", 5: "600" }),
    ["resistivity-electrodes.csv: line R1: electrodes are 200 m apart; in m?"],
  ],
  [
    "electrodes in another order",
    cells("resistivity-electrodes.csv", "x_m", { 2: "0", 3: "2", 4: "7", 5: "6" }),
    ["resistivity-electrodes.csv: line R1: x_m does not rise with the electrodes' numbers"],
  ],
  [
    "an electrode 56 m up",
    cells("resistivity-electrodes.csv", "elevation_m", { 3: "62" }),
    [
      "resistivity-electrodes.csv: line R1: electrodes 1 and 2 stand at 6.2 and 62 m; which is off?",
    ],
  ],
  [
    "a line beyond the bank",
    (to) => put(resourceOf(to, "resistivity-electrodes").lines[0], "chainage_m", 4000),
    [
      "datapackage.json, field lines, R1, chainage_m: must be a chainage of the centreline, 0.0 to 309.7 m, got 4000",
    ],
  ],
  [
    "currents in ampere",
    spreads("current_mA", "0.1"),
    [
      "resistivity-readings.csv: line R1: apparent resistivities of 41,000 ohm-m in the median; are mA, mV and x_m in their units?",
    ],
  ],
  [
    "voltages in volt",
    spreads("voltage_mV", "0.00025"),
    [
      "resistivity-readings.csv: line R1: apparent resistivities of 0.000047 ohm-m in the median; are mA, mV and x_m in their units?",
    ],
  ],
  [
    "voltages of nought",
    spreads("voltage_mV", "0"),
    ["resistivity-readings.csv: line R1: every voltage is 0"],
  ],
  [
    "voltages with the other sign",
    spreads("voltage_mV", "-250"),
    [
      "resistivity-readings.csv: line R1: 2 of 2 apparent resistivities are below 0; is the polarity turned?",
    ],
  ],
  [
    "readings that scatter by five times",
    spreads("deviation_pct", "500"),
    ["resistivity-readings.csv: line R1: readings deviate by 500 % in the median"],
  ],
  [
    "a reading of a line given twice",
    (to) => to.files["resistivity-readings.csv"]!.push(to.files["resistivity-readings.csv"]![1]!),
    ["resistivity-readings.csv: line R1: 1 reading given twice, number for number"],
  ],
  [
    "soil temperatures of another year",
    cells("soil-temperature.csv", "time", {
      2: "2027-02-13T12:00:00Z",
      3: "2027-03-13T12:00:00Z",
      4: "2027-04-13T12:00:00Z",
    }),
    ["soil-temperature.csv: no temperature within two months of the readings"],
  ],
  [
    "soil temperatures in kelvin",
    cells("soil-temperature.csv", "temperature_degC", { 2: "285.7" }),
    ["soil-temperature.csv row 2, field temperature_degC: must be at most 60, got 285.7"],
  ],
  [
    "a note whose coordinates lie elsewhere",
    all(
      cells("field-notes.csv", "longitude", { 2: "3.0031" }),
      cells("field-notes.csv", "latitude", { 2: "54.0001" }),
    ),
    ["field-notes.csv row 2: its coordinates lie at 208 m, 166 m off its chainage"],
  ],
  [
    "metal without a word",
    cells("field-notes.csv", "object", { 2: "" }),
    ["field-notes.csv row 2: metal without a word on what it is"],
  ],
  [
    "metal along the whole bank",
    cells("field-notes.csv", "to_m", { 2: "309" }),
    ["field-notes.csv row 2: metal along 269 of 310 m of bank"],
  ],
  [
    "a note 300 m away",
    (to) =>
      put(to.files, "field-notes.csv", [
        "kind,object,from_m,to_m,offset_m",
        "metal,gate,40,42,300",
      ]),
    ["field-notes.csv row 2: 300 m from the centreline; in m?"],
  ],
  [
    "bytes of nought",
    (to) =>
      put(to.files, "incidents.csv", ["date,chainage_m,kind,text", "2027-02-19,120,sand\0boil,x"]),
    ["incidents.csv: must be text in the encoding utf-8, got other bytes"],
  ],
  [
    "a folder for a file",
    (to) => {
      put(resourceOf(to, "incidents"), "path", "notes");
      put(to.files, "notes/a.csv", ["a"]);
    },
    ["notes: must be a file in the survey folder, got a read error, EISDIR"],
  ],
];
