// The demo survey, its truth, and the chain run on it once for all tests of a file.
import { readFileSync } from "node:fs";
import { interpret } from "../../lib/interpret/interpret.js";
import { openSurvey } from "../../lib/survey/open-survey.js";

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
