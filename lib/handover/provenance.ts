import type { Work } from "../chain/work.js";

/** What the findings were made from: the part that the library knows. */
export interface Provenance {
  readonly inputs: readonly {
    readonly path: string;
    readonly sha256: string;
    readonly bytes: number;
  }[];
  readonly decisions: readonly {
    readonly name: string;
    readonly value: unknown;
    readonly because: string;
    readonly alternatives: readonly unknown[];
  }[];
  /** Step → seed of its random draws. */
  readonly seeds: Readonly<Record<string, number>>;
  /** Every step in order with its options as resolved. */
  readonly steps: readonly {
    readonly step: string;
    readonly about: string;
    readonly used: Readonly<Record<string, unknown>>;
  }[];
}

export function provenanceOf(work: Work): Provenance {
  const steps = [
    ...work.drift.map((result) => ({ result, about: result.value.label })),
    ...work.masked.map((result) => ({ result, about: result.value.label })),
    ...(work.across ? [{ result: work.across, about: "" }] : []),
    ...work.slices.map((result) => ({ result, about: result.value.campaign })),
    { result: work.blocks, about: work.blocks.value.campaign },
    ...work.changes.map((result) => ({
      result,
      about: `${result.value.earlier} to ${result.value.later}`,
    })),
    ...(work.trend ? [{ result: work.trend, about: "" }] : []),
    ...(work.head ? [{ result: work.head, about: work.head.value.point }] : []),
    { result: work.seepage, about: "" },
  ].map(({ result, about }) => ({ step: result.step, about, used: result.used }));
  const seeds: Record<string, number> = {};
  for (const { step, used } of steps) {
    const seed = used.seed;
    if (typeof seed === "number") seeds[step] = seed;
  }
  return {
    inputs: work.survey.value.inputs.map(({ path, sha256, bytes }) => ({ path, sha256, bytes })),
    decisions: work.decisions.map(({ name, value, because, alternatives }) => ({
      name,
      value,
      because,
      alternatives,
    })),
    seeds,
    steps,
  };
}
