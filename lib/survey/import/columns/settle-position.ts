import { utmDefinition } from "../../bank/projection.js";
import type { Enquiry } from "../enquiry.js";
import { packedDegrees, readDegrees } from "../values/degrees.js";
import { plainNumber } from "../values/number-form.js";
import { type Column, meant } from "./column.js";

/** How the position of a row is read: two numbers, NaN each where a cell cannot be read. */
export interface PositionPlan {
  readonly fields: readonly ["longitude", "latitude"] | readonly ["easting", "northing"];
  readonly from: readonly [string, string];
  readonly how: string;
  readonly isBlank: (cells: readonly string[]) => boolean;
  readonly read: (cells: readonly string[]) => readonly [number, number];
}

/** The position of a row; null where the table has none. Longitude and latitude come first. */
export function settlePosition(
  file: string,
  columns: readonly Column[],
  enquiry: Enquiry,
): PositionPlan | null {
  const [longitude] = meant(columns, "longitude");
  const [latitude] = meant(columns, "latitude");
  if (longitude !== undefined && latitude !== undefined) {
    const read = [longitude, latitude].map((column) =>
      degreeReader(file, column, columns, enquiry),
    );
    return planOf(["longitude", "latitude"], [longitude, latitude], read, "degrees, WGS 84");
  }
  const [easting] = meant(columns, "easting");
  const [northing] = meant(columns, "northing");
  if (easting === undefined || northing === undefined) return null;
  const read = [easting, northing].map(({ index, numbers }) => (cells: readonly string[]) => {
    const value = plainNumber(cells[index] ?? "", numbers);
    return value === null ? Number.NaN : Number(value);
  });
  settleCrs(file, [easting, northing], enquiry);
  return planOf(["easting", "northing"], [easting, northing], read, "metres of the survey's crs");
}

type CellReader = (cells: readonly string[]) => number;

function planOf(
  fields: PositionPlan["fields"],
  [one, other]: readonly [Column, Column],
  [first, second]: readonly CellReader[],
  how: string,
): PositionPlan {
  return {
    fields,
    from: [one.header, other.header],
    how,
    isBlank: (cells) => (cells[one.index] ?? "") === "" && (cells[other.index] ?? "") === "",
    read: (cells) => [first!(cells), second!(cells)],
  };
}

function degreeReader(
  file: string,
  column: Column,
  columns: readonly Column[],
  enquiry: Enquiry,
): CellReader {
  const { index, numbers, meaning } = column;
  const limit = meaning === "latitude" ? 90 : 180;
  const [side] = meant(columns, `hemisphere of ${meaning as "longitude" | "latitude"}`);
  const isPacked = packedForm(file, column, enquiry);
  return (cells) => {
    const value = readDegrees(cells[index] ?? "", numbers);
    const degrees = isPacked ? packedDegrees(value) : value;
    const isNegative = side !== undefined && /^[SW]$/i.test(cells[side.index] ?? "");
    return Math.abs(degrees) <= limit ? (isNegative ? -degrees : degrees) : Number.NaN;
  };
}

/** True where degrees and minutes stand together, as in 5230.123; asked, for only ranges tell. */
function packedForm(file: string, { header, cells, numbers, meaning }: Column, enquiry: Enquiry) {
  const values = cells.map((cell) => readDegrees(cell, numbers)).filter((v) => !Number.isNaN(v));
  const limit = meaning === "latitude" ? 90 : 180;
  const beyond = values.filter((value) => Math.abs(value) > limit);
  if (values.length === 0 || beyond.length < 0.9 * values.length) return false;
  const together = "degrees and minutes together";
  const form = enquiry.settle({
    file,
    name: `form of ${header}`,
    ask: `Is a cell of "${header}" such as ${beyond[0]} degrees and minutes without a sign between?`,
    guess: values.every((value) => !Number.isNaN(packedDegrees(value))) ? together : null,
    why: `beyond ${limit} degrees, and all minutes so read are below 60`,
    choices: [together, "degrees"],
  });
  return form === together;
}

/** The code of the projected system, which no numbers tell. */
export function settleCrs(
  file: string,
  [easting, northing]: readonly [Column, Column],
  enquiry: Enquiry,
): string | null {
  const example = [easting, northing]
    .map(({ cells }) => cells.find((cell) => cell !== ""))
    .join(", ");
  const crs = enquiry.settle({
    file,
    name: "crs",
    isShared: true,
    ask: `Which EPSG code has the system of easting and northing, such as ${example}?`,
    guess: null,
    why: "the numbers fit many systems",
    broken: (answer) => (/^(EPSG:)?\d{4,6}$/.test(answer) ? null : "an EPSG code such as 32631"),
  });
  if (crs !== null && utmDefinition(Number(crs.replace(/\D/g, ""))) === null) {
    enquiry.settle({
      name: "crs definition",
      ask: `What is the PROJ string of EPSG:${crs.replace(/\D/g, "")}?`,
      guess: null,
      why: "only UTM zones are built in",
      broken: (answer) => (answer.startsWith("+proj=") ? null : "a PROJ string such as +proj=…"),
    });
  }
  return crs;
}
