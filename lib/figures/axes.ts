import { extent, logDomain, logSteps } from "./numbers.js";
import { greys } from "./theme.js";

type Json = Readonly<Record<string, unknown>>;

export interface ValueScale {
  readonly scale: "linear" | "log";
  readonly domain?: readonly [number, number];
  /** Keep zero in view (linear). */
  readonly withZero?: boolean;
  readonly reverse?: boolean;
  /** Length of the axis, px: how many ticks it has room for. */
  readonly length_px: number;
}

/** Scale and axis of a value, from the arrays that it has to show. */
export function valueScale(arrays: readonly ArrayLike<number>[], wish: ValueScale): Json {
  if (wish.scale === "log") return logScale(arrays, wish);
  const domain = wish.domain ?? linearDomain(arrays, wish.withZero === true);
  const scale = { domain: [...domain], zero: false, nice: wish.domain === undefined };
  return {
    scale: wish.reverse === true ? { ...scale, reverse: true } : scale,
    axis: { tickCount: Math.max(2, Math.min(6, Math.round(wish.length_px / 28))) },
  };
}

function logScale(arrays: readonly ArrayLike<number>[], wish: ValueScale): Json {
  const domain = wish.domain ?? logDomain(arrays);
  const scale = { type: "log", domain: [...domain], nice: false };
  return {
    scale: wish.reverse === true ? { ...scale, reverse: true } : scale,
    axis: { values: logTicks(domain, Math.max(3, Math.floor(wish.length_px / 21))), format: "~g" },
  };
}

/**
 * Ticks of a log scale: 1, 2 and 5 in each decade; where those are more than `most`, powers of ten;
 * where there are not two of those, every other step.
 */
export function logTicks(domain: readonly [number, number], most = 7): readonly number[] {
  const steps = logSteps(domain[0], domain[1]).filter(
    (step) => step >= domain[0] * 0.999 && step <= domain[1] * 1.001,
  );
  if (steps.length <= most) return steps;
  const decades = steps.filter((step) => Math.abs(Math.log10(step) % 1) < 1e-9);
  return decades.length > 1 ? decades : steps.filter((_, i) => i % 2 === 0);
}

function linearDomain(
  arrays: readonly ArrayLike<number>[],
  withZero: boolean,
): readonly [number, number] {
  const range = extent(withZero ? [...arrays, [0]] : arrays) ?? [0, 1];
  const span = range[1] - range[0];
  const margin = span > 0 ? span * 0.05 : Math.max(Math.abs(range[0]) * 0.05, 1e-6);
  return [range[0] - margin, range[1] + margin];
}

/** A thin rule in the quiet grey. */
export const quietRule: Json = Object.freeze({ type: "rule", color: greys.rule, strokeWidth: 1 });
