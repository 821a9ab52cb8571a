// The demo survey, its truth, and the chain run on it once for all tests of a file.
import { readFileSync } from "node:fs";
import { interpret } from "../../lib/chain/interpret.js";
import { openSurvey } from "../../lib/place/open-survey.js";

export const demoFolder = new URL("../../data-demo/sedgeholm", import.meta.url).pathname;

export interface DemoTruth {
  readonly boundaries_m: readonly number[];
  readonly lens: { readonly from_m: number; readonly to_m: number };
  readonly changes: readonly {
    readonly from_m: number;
    readonly to_m: number;
    readonly direction: "fell" | "rose";
  }[];
  readonly drift: readonly {
    readonly campaign: string;
    readonly channel: string;
    readonly perHour: number;
    readonly hours: number;
    readonly readingSd: number;
  }[];
  readonly metal: readonly {
    readonly object: string;
    readonly noted: boolean;
    readonly silent: boolean;
    readonly campaigns: readonly string[];
    readonly from_m: number;
    readonly to_m: number;
    readonly footprint: { readonly from_m: number; readonly to_m: number } | null;
  }[];
  readonly grid: {
    readonly spacing_m: number;
    readonly depthEdges_m: readonly number[];
    readonly field: Readonly<Record<string, readonly (readonly number[])[]>>;
  };
}

export const demoTruth = JSON.parse(
  readFileSync(new URL("../../data-demo/sedgeholm-truth/truth.json", import.meta.url), "utf8"),
) as DemoTruth;

export async function interpretedDemo() {
  return interpret(await openSurvey(demoFolder), []);
}

/** Length of the overlap of two stretches over that of their union. */
export function overlap(
  one: { readonly from_m: number; readonly to_m: number },
  two: { readonly from_m: number; readonly to_m: number },
): number {
  const shared = Math.min(one.to_m, two.to_m) - Math.max(one.from_m, two.from_m);
  const union = Math.max(one.to_m, two.to_m) - Math.min(one.from_m, two.from_m);
  return Math.max(0, shared) / union;
}

/** Mean of log10 resistivity of a column over a slice. */
export function logMean(
  column: readonly number[],
  edges: readonly number[],
  slice: { readonly top_m: number; readonly base_m: number },
): number {
  let sum = 0;
  let thickness = 0;
  for (const [j, resistivity] of column.entries()) {
    const shared = Math.min(edges[j + 1]!, slice.base_m) - Math.max(edges[j]!, slice.top_m);
    if (!(shared > 0)) continue;
    sum += shared * Math.log10(resistivity);
    thickness += shared;
  }
  return sum / thickness;
}
