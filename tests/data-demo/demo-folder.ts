import { readFileSync } from "node:fs";
import { join } from "node:path";
import Papa from "papaparse";

/** The committed demo survey, read plainly: no part of the library is used to test it. */

export const DEMO = join(import.meta.dirname, "../../data-demo");

export type Row = Readonly<Record<string, string>>;

export interface Field {
  readonly name: string;
  readonly type: string;
  readonly constraints?: {
    readonly required?: boolean;
    readonly minimum?: number;
    readonly maximum?: number;
    readonly enum?: readonly string[];
  };
}

export interface Resource {
  readonly name: string;
  readonly path: string;
  readonly role: string;
  readonly campaign?: string;
  readonly instrument?: { readonly channels: readonly { readonly field: string }[] };
  readonly lines?: readonly { readonly line: string; readonly chainage_m: number }[];
  readonly schema?: { readonly fields: readonly Field[] };
}

export function descriptor(): { survey: Record<string, unknown>; resources: Resource[] } {
  return JSON.parse(readText("sedgeholm/datapackage.json"));
}

export function readText(path: string): string {
  return readFileSync(join(DEMO, path), "utf8");
}

export function rowsOf(path: string): Row[] {
  const options = { header: true, skipEmptyLines: true };
  const { data, errors } = Papa.parse<Row>(readText(`sedgeholm/${path}`), options);
  if (errors.length > 0) throw new Error(`${path}: ${errors[0]!.message}`);
  return data;
}

export function headerOf(path: string): string[] {
  return readText(`sedgeholm/${path}`).split("\n", 1)[0]!.split(",");
}

export interface Stretch {
  readonly from_m: number;
  readonly to_m: number;
}

export interface Truth {
  readonly length_m: number;
  readonly blocks: readonly (Stretch & {
    readonly layers: readonly {
      readonly top_m: number;
      readonly base_m: number | null;
      readonly resistivity25_ohm_m: number;
      readonly soil: string;
    }[];
  })[];
  readonly boundaries_m: readonly number[];
  readonly lens: Stretch & { readonly top_m: number; readonly base_m: number };
  readonly changes: readonly (Stretch & {
    readonly top_m: number;
    readonly base_m: number;
    readonly direction: "fell" | "rose";
    readonly ratio: number;
  })[];
  readonly drain: Stretch & {
    readonly offset_m: number;
    readonly width_m: number;
    readonly top_m: number;
    readonly base_m: number;
  };
  readonly drift: readonly {
    readonly campaign: string;
    readonly channel: string;
    readonly perHour: number;
    readonly step: number;
    readonly hours: number;
    readonly batteryChange: string;
    readonly readingSd: number;
    readonly checkSd: number;
  }[];
  readonly metal: readonly (Stretch & {
    readonly object: string;
    readonly noted: boolean;
    readonly silent: boolean;
    readonly campaigns: readonly string[];
    readonly footprint: Stretch | null;
  })[];
  readonly gpsGaps: readonly (Stretch & {
    readonly campaign: string;
    readonly orientation: string;
  })[];
  readonly sections: readonly {
    readonly line: string;
    readonly campaign: string;
    readonly badContacts: readonly number[];
    readonly x_m: readonly number[];
    readonly depth_m: readonly number[];
    readonly resistivity_ohm_m: readonly (readonly number[])[];
  }[];
  readonly grid: {
    readonly spacing_m: number;
    readonly depthEdges_m: readonly number[];
    readonly field: Readonly<Record<string, readonly (readonly number[])[]>>;
    readonly at25: Readonly<Record<string, readonly (readonly number[])[]>>;
  };
}

export function truth(): Truth {
  return JSON.parse(readText("sedgeholm-truth/truth.json"));
}

export function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

export function standardDeviation(values: readonly number[]): number {
  const middle = mean(values);
  const squares = values.reduce((sum, value) => sum + (value - middle) ** 2, 0);
  return Math.sqrt(squares / (values.length - 1));
}
