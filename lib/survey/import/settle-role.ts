import { ROLES } from "../read/package/package-schema.js";
import { ROLE_FIELDS } from "../read/package/roles.js";
import { type Column, meant } from "./columns/column.js";
import { headerWords } from "./columns/header-words.js";
import type { Enquiry } from "./enquiry.js";
import type { Layout } from "./layout/recognise-layout.js";
import { readDegrees } from "./values/degrees.js";
import { plainNumber } from "./values/number-form.js";

export type TableRole = Exclude<(typeof ROLES)[number], "centreline">;
export type ImportRole = (typeof ROLES)[number] | "leave out";

const ROLE_CHOICES: readonly ImportRole[] = [...ROLES, "leave out"];

/** Compared without signs: `from_m`, `From (m)` and `from [m]` are one. */
export function bareName(name: string): string {
  return name.toLowerCase().replace(/[^a-z0-9]+/g, "");
}

/** A field of a role in a header: by its name, with or without the unit at its end. */
export function roleColumn(layout: Layout, field: string): number {
  const bare = layout.header.map(bareName);
  const whole = bare.indexOf(bareName(field));
  if (whole >= 0) return whole;
  const names = layout.header.map((name, c) => {
    const { words, unit } = headerWords(name, layout.units[c]);
    return bareName(`${words}${unit}`);
  });
  return names.indexOf(bareName(field));
}

/** The role whose needed columns a header holds by name; null where that is none, or readings. */
export function namedRole(layout: Layout): TableRole | null {
  const roles = Object.keys(ROLE_FIELDS) as TableRole[];
  const fits = roles.filter((role) => {
    if (role === "readings" || role === "base-checks" || role === "cross-section") return false;
    const needed = ROLE_FIELDS[role].filter((field) => field.needed !== undefined);
    return needed.every(({ name }) => roleColumn(layout, name) >= 0);
  });
  return fits[0] ?? null;
}

/** A walk goes further than this; a spot does not, degrees. */
const SPOT_DEG = 0.0003;
const SPOT_M = 30;

/** What a table of measured rows is: readings of a walk, base checks, or something else. */
export function settleMeasuredRole(
  file: string,
  columns: readonly Column[],
  enquiry: Enquiry,
): ImportRole | null {
  const hasChannel = meant(columns, "channel").length > 0;
  const isNamedSpot =
    /base|check|spot|drift|null|zero/i.test(file) || meant(columns, "spot").length > 0;
  const moves = isMoving(columns);
  const isWalk = hasChannel && moves === true && !isNamedSpot;
  const isSpot = hasChannel && moves !== true && isNamedSpot;
  const isVertices = !hasChannel && moves !== null;
  const isNamedLine = isVertices && /crest|cent(re|er) ?line|axis|achse|vertices/i.test(file);
  return enquiry.settle({
    file,
    name: "role",
    ask: `What does the file hold: ${ROLE_CHOICES.slice(0, 4).join(", ")} …?`,
    guess: isVertices
      ? "centreline"
      : isWalk || (hasChannel && moves)
        ? "readings"
        : hasChannel
          ? "base-checks"
          : null,
    why: evidence(hasChannel, moves, isNamedSpot),
    isSure: isWalk || isSpot || isNamedLine,
    choices: ROLE_CHOICES,
  }) as ImportRole | null;
}

function evidence(hasChannel: boolean, moves: boolean | null, isNamedSpot: boolean): string {
  return [
    hasChannel ? "it has channels" : "no column is a channel",
    moves === null ? "no positions" : moves ? "positions that move" : "positions that stay",
    ...(isNamedSpot ? ["a name of a base or a check"] : []),
  ].join(", ");
}

/** Null without positions. */
function isMoving(columns: readonly Column[]): boolean | null {
  const spans = (["longitude", "latitude", "easting", "northing"] as const).flatMap((meaning) => {
    const [column] = meant(columns, meaning);
    if (column === undefined) return [];
    const values = column.cells
      .map((cell) => Number(plainNumber(cell, column.numbers) ?? readDegrees(cell, column.numbers)))
      .filter((value) => !Number.isNaN(value) && value !== 0);
    const least = values.reduce(
      (min, value) => (value < min ? value : min),
      Number.POSITIVE_INFINITY,
    );
    const most = values.reduce(
      (max, value) => (value > max ? value : max),
      Number.NEGATIVE_INFINITY,
    );
    return [(most - least) / (meaning.endsWith("ing") ? SPOT_M : SPOT_DEG)];
  });
  return spans.length < 2 ? null : spans.some((span) => span > 1);
}
