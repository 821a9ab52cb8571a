import type { CheckGroup } from "./checks/group-checks.js";

export interface DriftRate {
  /** Slope, unit per second; NaN where no stretch holds two visits. */
  readonly perSecond: number;
  /** Standard error of the slope, widened where the visits scatter more than their errors. */
  readonly error: number;
}

/**
 * The slope that all stretches between level breaks share, each stretch with a level of its own:
 * weighted least squares with weights 1 / error².
 *
 * @param breaks indices of visits after which the level is free, such as at steps
 */
export function driftRate(groups: readonly CheckGroup[], breaks: ReadonlySet<number>): DriftRate {
  const stretches = splitAfter(groups, breaks).map(centred);
  const spread = sum(stretches.map((stretch) => stretch.spread));
  if (!(spread > 0)) return { perSecond: Number.NaN, error: Number.NaN };
  const perSecond = sum(stretches.map((stretch) => stretch.product)) / spread;
  const freedom = groups.length - stretches.length - 1;
  const misfit = sum(stretches.map((stretch) => stretch.misfit(perSecond)));
  const widening = freedom > 0 ? Math.max(1, misfit / freedom) : 1;
  return { perSecond, error: Math.sqrt(widening / spread) };
}

function splitAfter(
  groups: readonly CheckGroup[],
  breaks: ReadonlySet<number>,
): readonly CheckGroup[][] {
  const stretches: CheckGroup[][] = [[]];
  for (const [i, group] of groups.entries()) {
    stretches.at(-1)?.push(group);
    if (breaks.has(i)) stretches.push([]);
  }
  return stretches.filter((stretch) => stretch.length > 0);
}

function centred(stretch: readonly CheckGroup[]) {
  const weight = stretch.map(({ error }) => (error > 0 ? 1 / error ** 2 : 1));
  const total = sum(weight);
  const origin = stretch[0]!.time_s;
  const time = stretch.map(({ time_s }) => time_s - origin);
  const meanTime = sum(time.map((t, i) => t * weight[i]!)) / total;
  const meanLevel = sum(stretch.map(({ mean }, i) => mean * weight[i]!)) / total;
  const off = stretch.map(({ mean }) => mean - meanLevel);
  return {
    spread: sum(time.map((t, i) => weight[i]! * (t - meanTime) ** 2)),
    product: sum(time.map((t, i) => weight[i]! * (t - meanTime) * off[i]!)),
    misfit: (slope: number) =>
      sum(time.map((t, i) => weight[i]! * (off[i]! - slope * (t - meanTime)) ** 2)),
  };
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
