import { extent, logDomain, logSteps } from "./numbers.js";
import type { Position, Positions } from "./spec.js";

export interface ValueAxis {
  readonly scale: "linear" | "log";
  readonly title: string | null;
  readonly domain?: readonly [number, number] | undefined;
  /** Keep zero in view (linear). */
  readonly withZero?: boolean | undefined;
  readonly reverse?: boolean | undefined;
  /** Length of the axis, px: how many ticks it has room for. */
  readonly length_px: number;
  /** Ticks wished for; default: as many as there is room for. */
  readonly tickCount?: number;
}

/** Positions of values, their scale and axis from the arrays that they have to show. */
export function valuePositions(arrays: readonly ArrayLike<number>[], axis: ValueAxis): Positions {
  const { scale, axis: ticks } =
    axis.scale === "log" ? logScale(arrays, axis) : linearScale(arrays, axis);
  const wished = axis.tickCount === undefined ? {} : { tickCount: axis.tickCount };
  const rest = {
    scale: axis.reverse === true ? { ...scale, reverse: true } : scale,
    axis: { title: axis.title, ...ticks, ...wished },
  };
  return (field) => ({ field, type: "quantitative", ...rest });
}

function linearScale(
  arrays: readonly ArrayLike<number>[],
  { domain, withZero, length_px }: ValueAxis,
): Required<Pick<Position, "scale" | "axis">> {
  const [from, to] = domain ?? linearDomain(withZero === true ? [...arrays, [0]] : arrays);
  return {
    scale: { domain: [from, to], zero: false, nice: domain === undefined },
    axis: { tickCount: Math.max(2, Math.min(6, Math.round(length_px / 28))) },
  };
}

function logScale(
  arrays: readonly ArrayLike<number>[],
  { domain = logDomain(arrays), length_px }: ValueAxis,
): Required<Pick<Position, "scale" | "axis">> {
  return {
    scale: { type: "log", domain: [...domain], nice: false },
    axis: { values: logTicks(domain, Math.max(3, Math.floor(length_px / 21))), format: "~g" },
  };
}

/**
 * Ticks of a log scale: 1, 2 and 5 in each decade; where those are more than `most`, powers of ten;
 * where there are not two of those, every other step.
 */
export function logTicks(domain: readonly [number, number], most = 7): number[] {
  const steps = logSteps(domain[0], domain[1]).filter(
    (step) => step >= domain[0] * 0.999 && step <= domain[1] * 1.001,
  );
  if (steps.length <= most) return steps;
  const decades = steps.filter((step) => Math.abs(Math.log10(step) % 1) < 1e-9);
  return decades.length > 1 ? decades : steps.filter((_, i) => i % 2 === 0);
}

function linearDomain(arrays: readonly ArrayLike<number>[]): readonly [number, number] {
  const range = extent(arrays) ?? [0, 1];
  const span = range[1] - range[0];
  const margin = span > 0 ? span * 0.05 : Math.max(Math.abs(range[0]) * 0.05, 1e-6);
  return [range[0] - margin, range[1] + margin];
}
