// Ways to spoil a sound survey folder that a check of form cannot see, with all that is said of each.
import {
  put,
  resourceOf,
  type SketchedFolder,
  setCell,
} from "../../../survey/support/survey-folder.js";

/** What is done, and the faults and cautions that come of it, as lines. */
export type Slip = readonly [
  what: string,
  spoil: (to: SketchedFolder) => void,
  said: readonly string[],
];

/** Another cell in some rows of a column; "" stays as it is. */
export const cells =
  (file: string, field: string, given: Readonly<Record<number, string>>) =>
  (to: SketchedFolder) => {
    for (const [row, cell] of Object.entries(given)) {
      setCell(to, { file, row: Number(row), field }, cell);
    }
  };

export const channels = (to: SketchedFolder) => resourceOf(to, "readings").instrument.channels;

export const survey = (name: string, value: unknown) => (to: SketchedFolder) =>
  put(to.package.survey, name, value);

export const geometry =
  (coordinates: unknown, properties: object = {}) =>
  (to: SketchedFolder) => {
    const geometry = { type: "LineString", coordinates };
    const text = JSON.stringify({ type: "Feature", properties, geometry });
    put(to.files, "centreline.geojson", [text]);
  };

/** One column more in the walk. */
export const column =
  (name: string, type: string, of: (row: number) => string) => (to: SketchedFolder) => {
    const lines = to.files["walk.csv"]!;
    for (const [i, text] of lines.entries()) lines[i] = `${text},${i === 0 ? name : of(i + 1)}`;
    resourceOf(to, "readings").schema.fields.push({ name, type });
  };

/** A channel under another name, in the walk and in the base checks. */
export const renamed = (from: string, to: string) => (sketch: SketchedFolder) => {
  for (const file of ["walk.csv", "base-checks.csv"]) {
    sketch.files[file]![0] = sketch.files[file]![0]!.replace(from, to);
  }
  const { schema, instrument } = resourceOf(sketch, "readings");
  for (const one of schema.fields) if (one.name === from) one.name = to;
  for (const one of instrument.channels) if (one.field === from) one.field = to;
};

export interface Reading {
  readonly time: string;
  readonly longitude: string;
  readonly latitude: string;
  readonly c_hcp: string;
  readonly c_vcp: string;
}

/** The i-th reading of a walk whose channels go up and down. */
export function reading(i: number): Reading {
  return {
    time: new Date(Date.UTC(2031, 9, 14, 8, 0, i)).toISOString(),
    longitude: (3.0001 + i * 2e-5).toFixed(6),
    latitude: "54.00001",
    c_hcp: (20 + Math.sin(i)).toFixed(2),
    c_vcp: (18 + Math.cos(2 * i)).toFixed(2),
  };
}

/** A longer walk, each reading changed. */
export const walk =
  (readings: number, change: (one: Reading, i: number) => Partial<Reading> = () => ({})) =>
  (to: SketchedFolder) => {
    const rows = Array.from({ length: readings }, (_, i) => {
      const { time, longitude, latitude, c_hcp, c_vcp } = {
        ...reading(i),
        ...change(reading(i), i),
      };
      return [time, longitude, latitude, c_hcp, c_vcp].join(",");
    });
    to.files["walk.csv"] = [to.files["walk.csv"]![0]!, ...rows];
  };

/** Several slips one after the other. */
export const all =
  (...spoils: readonly ((to: SketchedFolder) => void)[]) =>
  (to: SketchedFolder) => {
    for (const spoil of spoils) spoil(to);
  };
