import type { Grid } from "../../survey/bank/projection.js";

/** One map layer: a table of the GeoPackage and a GeoJSON file of the same name. */
export interface Layer {
  /** Letters, digits and "_". */
  readonly name: string;
  readonly title: string;
  readonly description: string;
  readonly geometry: "Point" | "LineString";
  readonly fields: readonly LayerField[];
  readonly features: readonly LayerFeature[];
  readonly style: LayerStyle;
}

export interface LayerField {
  readonly name: string;
  /** "time" is ISO 8601 in UTC. */
  readonly type: "text" | "integer" | "real" | "time";
  readonly title: string;
  readonly description: string;
}

export interface LayerFeature {
  /** One place, or those of a line, in the survey's projected coordinates; empty where unknown. */
  readonly places: readonly Grid[];
  /** One value a field; null where it is not known. */
  readonly values: readonly LayerValue[];
}

export type LayerValue = string | number | null;

/** One colour, or one a value of a field. */
export interface LayerStyle {
  readonly by?: string;
  readonly rules: readonly { readonly value: string; readonly colour: string }[];
  /** Width of a line or size of a point, px. */
  readonly size_px: number;
}

/** A field's definition in one line; what is left out of the description is said by the title. */
export function field(
  name: string,
  type: LayerField["type"],
  [title, description = title]: readonly [title: string, description?: string],
): LayerField {
  return { name, type, title, description };
}

/** A finite number, or null. */
export function known(value: number | null | undefined): number | null {
  return value !== null && value !== undefined && Number.isFinite(value) ? value : null;
}
