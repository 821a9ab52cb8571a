export interface FieldNote {
  readonly row: number;
  readonly kind: "mark" | "metal" | "structure" | "remark";
  readonly object: string;
  /** Chainages; equal for a point. From coordinates where the note has no chainage. */
  readonly from_m: number;
  readonly to_m: number;
  /** The chainage of the note's coordinates, where it gives both; a check of the chainages. */
  readonly located_m?: number;
  readonly offset_m: number | null;
  readonly time_s: number | null;
  /** Null where the note holds for every campaign. */
  readonly campaign: string | null;
  readonly text: string;
}

export interface Incident {
  /** ISO 8601 date. */
  readonly date: string;
  readonly chainage_m: number;
  readonly kind: string;
  readonly text: string;
}
