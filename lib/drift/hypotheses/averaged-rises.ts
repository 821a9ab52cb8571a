import { dot } from "../../numerics/algebra/dot.js";
import { quadraticForm } from "../../numerics/algebra/quadratic-form.js";
import { entryOf } from "../../numerics/arrays.js";
import { type ProcessIncrement, processIncrement } from "../kriging/drift-covariance.js";
import type { DriftProcess } from "../kriging/drift-process.js";
import type { Rise } from "../kriging/krige-drift.js";
import type { AveragedDrift, PooledPosterior } from "./average-drift.js";
import type { Component } from "./drift-shapes.js";

type Increments = ReadonlyMap<DriftProcess, ProcessIncrement>;

/** How much the drift rose from one time to each of others, over all hypotheses. */
export function averagedRises(
  { frame, pooled }: AveragedDrift,
  from_s: number,
  times_s: readonly number[],
): readonly Rise[] {
  const components = pooled.flatMap((one) => one.components);
  const processes = new Set(components.map(({ process }) => process));
  return times_s.map((to_s) => {
    const increments: Increments = new Map(
      Array.from(processes, (process) => {
        return [process, processIncrement({ ...frame, process }, from_s, to_s)] as const;
      }),
    );
    return averagedRise(pooled, increments, frame.data.length);
  });
}

function averagedRise(pooled: readonly PooledPosterior[], increments: Increments, n: number): Rise {
  let [mean, square] = [0, 0];
  const covariance = new Float64Array(n);
  for (const { components, weight, dualWeights, reduction } of pooled) {
    const variance = sumInto(covariance, components, increments);
    mean += dot(covariance, dualWeights);
    square += weight * variance - quadraticForm(reduction, covariance);
  }
  return { mean, sd: Math.sqrt(Math.max(0, square - mean * mean)) };
}

/** Writes the covariance of the components' sum with the data; gives the sum's own variance. */
function sumInto(
  covariance: Float64Array,
  components: readonly Component[],
  increments: Increments,
): number {
  covariance.fill(0);
  let sum = 0;
  for (const { process, size } of components) {
    const { crossCovariance, variance } = entryOf(increments, process);
    for (let i = 0; i < covariance.length; i++) covariance[i]! += size * size * crossCovariance[i]!;
    sum += size * size * variance;
  }
  return sum;
}
