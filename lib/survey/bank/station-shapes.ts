import type { EmbankmentShape } from "../../earth/embankment/shape.js";
import { itemAt } from "../../numerics/arrays.js";
import { linearBetween } from "../../numerics/functions/linear-between.js";
import type { CrossSection, CrossSectionProfile } from "../cross-section.js";

/** The bank's cross-section under each station of a line, in few distinct shapes. */
export interface StationShapes {
  readonly shapes: readonly EmbankmentShape[];
  /** n numbers of shapes; −1 where it is not known. */
  readonly of: Int32Array;
  /** Why it is known nowhere; null where it is known somewhere. */
  readonly lacks: "cross-section" | "crest" | null;
}

/** Of lines walked along the crest: those further outside its edges are on a slope or beyond, m. */
const OUTSIDE_M = 0.5;
/** Stations whose widths and heights lie within this share, and slopes within this, share a shape. */
const ALIKE = 0.07;
const ALIKE_SLOPE = 0.3;

/**
 * Along a line that runs `left_m` to the left of the centreline, taken to 0.1 m: campaigns on one
 * line have one shape.
 */
export function stationShapes(
  chainage_m: ArrayLike<number>,
  left_m: number,
  crossSections?: CrossSectionProfile,
): StationShapes {
  const offset_m = Math.round(10 * left_m) / 10;
  const shapes: EmbankmentShape[] = [];
  let beside = 0;
  const of = Int32Array.from(chainage_m, (x) => {
    const section = crossSections && sectionAt(crossSections, x);
    const shape = section && shapeOf(section, offset_m, crossSections.waterside);
    if (shape === undefined) return -1;
    if (Math.abs(shape.offset_m) > shape.crestWidth_m / 2 + OUTSIDE_M) {
      beside += 1;
      return -1;
    }
    const known = shapes.findIndex((other) => areAlike(shape, other));
    return known >= 0 ? known : shapes.push(onCrest(shape)) - 1;
  });
  const lacks = shapes.length > 0 ? null : beside > 0 ? "crest" : "cross-section";
  return { shapes, of, lacks };
}

/** A cross-section of which no part is missing. */
type Whole = { readonly [Field in keyof CrossSection]: number };

function sectionAt(profile: CrossSectionProfile, x: number): Whole | undefined {
  const { chainage_m, section } = profile;
  const at = (field: keyof CrossSection) =>
    linearBetween(
      chainage_m,
      section.map((one) => one[field] ?? Number.NaN),
      x,
    );
  const whole: Whole = {
    crestWidth_m: at("crestWidth_m"),
    crestElevation_m: at("crestElevation_m"),
    foundationElevation_m: at("foundationElevation_m"),
    watersideSlope: at("watersideSlope"),
    landsideSlope: at("landsideSlope"),
  };
  return Object.values(whole).some(Number.isNaN) ? undefined : whole;
}

/** Where the water's side is not known, both sides have the mean slope and either may be left. */
function shapeOf(
  section: Whole,
  left_m: number,
  waterside: CrossSectionProfile["waterside"],
): EmbankmentShape | undefined {
  const { crestWidth_m, watersideSlope, landsideSlope } = section;
  const height_m = section.crestElevation_m - section.foundationElevation_m;
  if (!(height_m > 0 && crestWidth_m > 0)) return undefined;
  const mean = (watersideSlope + landsideSlope) / 2;
  const slopes =
    waterside === null
      ? { watersideSlope: mean, landsideSlope: mean }
      : { watersideSlope, landsideSlope };
  return {
    crestWidth_m,
    height_m,
    ...slopes,
    offset_m: waterside === "left" ? 0 - left_m : left_m,
  };
}

/** Positions err: a line just outside an edge is taken to be on it. */
function onCrest(shape: EmbankmentShape): EmbankmentShape {
  const most = shape.crestWidth_m / 2;
  return { ...shape, offset_m: Math.max(-most, Math.min(most, shape.offset_m)) };
}

function areAlike(one: EmbankmentShape, other: EmbankmentShape): boolean {
  const apart = (a: number, b: number) => Math.abs(Math.log(a / b));
  return (
    apart(one.crestWidth_m, other.crestWidth_m) < ALIKE &&
    apart(one.height_m, other.height_m) < ALIKE &&
    Math.abs(one.watersideSlope - other.watersideSlope) < ALIKE_SLOPE &&
    Math.abs(one.landsideSlope - other.landsideSlope) < ALIKE_SLOPE
  );
}

/** The shape at a station; undefined where it is not known. */
export function shapeAt(
  { shapes, of }: StationShapes,
  station: number,
): EmbankmentShape | undefined {
  const at = itemAt(of, station);
  return at < 0 ? undefined : itemAt(shapes, at);
}

/** The number of the shape that most stations have; −1 where none is known. */
export function usualShape({ shapes, of }: StationShapes): number {
  const counts = shapes.map((_, k) => of.filter((one) => one === k).length);
  return counts.indexOf(Math.max(...counts));
}
