/** One reach of an inventory: a survey folder under a name. */
export interface Reach {
  /** Letters, digits, ".", "_" and "-": the name of a job and of a partition. */
  readonly reach: string;
  /** The survey folder as the inventory names it, relative to the inventory's folder. */
  readonly folder: string;
  /** Further columns of the table, as text. */
  readonly details: Readonly<Record<string, string>>;
}

/** A reach with the line of the table that it stands on; null without a table. */
export interface ReachRow extends Reach {
  readonly row: number | null;
}

export const REACH_NAME = /^[A-Za-z0-9][A-Za-z0-9._-]{0,79}$/;

export const reachNameRule =
  "1 to 80 letters without accents, digits, dots, underscores or hyphens, the first a letter or digit";
