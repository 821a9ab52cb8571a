import type { QueriedRow } from "./query-tables.js";

/** An inventory that was gathered, as its tables hold it; columns as `schema.json` tells them. */
export interface Inventory {
  /** The output folder of `banquette inventory`. */
  readonly folder: string;
  readonly reaches: readonly InventoryReach[];
  /** Seepage zones of all reaches, by rank. */
  readonly ranking: readonly InventoryZone[];
  readonly classes: readonly InventoryClass[];
  readonly weights: readonly InventoryWeight[];
  /** Boreholes under one budget, by priority. */
  readonly holes: readonly InventoryHole[];
  readonly unknown: readonly InventoryUnknown[];
}

type Row<Fields> = QueriedRow & Fields;

export type InventoryReach = Row<{
  readonly reach: string;
  readonly folder: string;
  readonly state: "interpreted" | "refused" | "failed";
  readonly why: string;
  readonly length_m: number | null;
  readonly readings: number | null;
  readonly set_aside: number | null;
  readonly incidents: number | null;
  readonly boreholes: number | null;
  /** Well-known text. */
  readonly geometry: string | null;
}>;

export type InventoryZone = Row<{
  readonly rank: number;
  readonly rank_lo: number;
  readonly rank_hi: number;
  readonly among_first_ten: number;
  readonly rank_alone: number;
  readonly reach: string;
  readonly from_m: number;
  readonly to_m: number;
  readonly score: number;
  readonly probability: number;
  readonly band: "low" | "moderate" | "high";
  readonly band_kept: number;
  /** JSON: log-odds by piece of evidence. */
  readonly contributions: string;
  readonly geometry: string | null;
}>;

export type InventoryClass = Row<{
  readonly class: string;
  readonly share: number;
  readonly length_m: number;
  readonly top_m: number;
  readonly base_m: number;
  readonly log10_ohm_m: number;
  readonly sd: number;
  readonly common_sd: number;
}>;

export type InventoryWeight = Row<{
  readonly reach: string | null;
  readonly piece: string;
  readonly present: number;
  readonly absent: number;
  readonly sd: number;
  readonly between: number | null;
  readonly source: "incidents" | "declared";
}>;

export type InventoryHole = Row<{
  readonly priority: number;
  readonly reach: string;
  readonly chainage_m: number;
  readonly depth_m: number;
  readonly place: string;
  readonly purpose: string;
  readonly adds_m: number;
  readonly class: string | null;
  readonly class_m: number;
  readonly geometry: string | null;
}>;

export type InventoryUnknown = Row<{
  readonly reach: string;
  readonly what: string;
  /** In the campaign in which it is longest, m. */
  readonly length_m: number;
}>;
