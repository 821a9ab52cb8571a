import { put, resourceOf } from "../../../survey/support/survey-folder.js";
import type { Spoiling } from "./spoiling.js";

/** Faults of datapackage.json, of the centreline and among the files. */
export const packageFaults: readonly Spoiling[] = [
  [
    "an instrument that is not there",
    (to) => delete resourceOf(to, "readings").instrument,
    ["missing-property", "datapackage.json", null, "resources[1].instrument"],
    "datapackage.json, field resources[1].instrument: must be given as an object, got nothing " +
      "(resource walk)",
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
    "base checks of a campaign that there is not",
    (to) => put(resourceOf(to, "base-checks"), "campaign", "2031-11"),
    ["unknown-campaign", "datapackage.json", null, "resources[2].campaign"],
    'datapackage.json, field resources[2].campaign: must be one of 2031-10, got "2031-11"',
  ],
  [
    "a walk that is listed twice",
    (to) => to.package.resources.push({ ...resourceOf(to, "readings"), name: "again" }),
    ["duplicate-path", "datapackage.json", null, "resources[13].path"],
    "datapackage.json, field resources[13].path: must be another path than that of resource " +
      'walk, got "walk.csv"',
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
    "datapackage.json, field resources: must be a list with one resource of role readings or " +
      "more, got none",
  ],
  [
    "a role that there is not",
    (to) => put(resourceOf(to, "incidents"), "role", "events"),
    ["unknown-role", "datapackage.json", null, "resources[11].role"],
    "datapackage.json, field resources[11].role: must be one of centreline, readings, " +
      "base-checks, field-notes, soil-temperature, water-levels, resistivity-electrodes, " +
      "resistivity-readings, boreholes, strata, laboratory, incidents, cross-section, got " +
      '"events" (resource incidents)',
  ],
  [
    "a path that leaves the folder",
    (to) => put(resourceOf(to, "incidents"), "path", "../incidents.csv"),
    ["unsafe-path", "datapackage.json", null, "resources[11].path"],
    "datapackage.json, field resources[11].path: must be a relative path within the survey " +
      'folder, got "../incidents.csv" (resource incidents)',
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
    'datapackage.json, field survey.crs: must be a UTM zone, or come with "crsDefinition", a ' +
      "PROJ string, got EPSG:28992",
  ],
  [
    "a zone on the other side of the globe",
    (to) => put(to.package.survey, "crs", 32655),
    ["crs-unfit", "datapackage.json", null, "survey.crs"],
    "datapackage.json, field survey.crs: must be a system in metres that keeps distances within " +
      "0.5 % at the centreline, got a scale of 1.065 (another zone, or coordinates that are not " +
      "in metres)",
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
    "centreline.geojson, field coordinates[0]: must be a longitude from -180 to 180 and a " +
      "latitude from -90 to 90, degrees, got [500000,5983000] (RFC 7946 has " +
      "longitude first, WGS 84)",
  ],
  [
    "a walk that is there twice",
    (to) => {
      const copy = { name: "again", path: "copy.csv" };
      to.package.resources.push({ ...resourceOf(to, "readings"), ...copy });
      to.files["copy.csv"] = [...to.files["walk.csv"]!];
    },
    ["duplicate-pass", "copy.csv", null, null],
    "copy.csv: must be another walk than walk.csv, got 5 of 5 readings the same",
  ],
];
