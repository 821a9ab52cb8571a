import { lastOf } from "../../numerics/arrays.js";
import type { DriftKind } from "../drift.js";
import { dataCovariance } from "../kriging/drift-covariance.js";
import type { DriftFrame } from "../kriging/drift-frame.js";
import {
  type DriftProcess,
  straightLine,
  swinging,
  wandering,
  warmUp,
} from "../kriging/drift-process.js";

/** How large the data and their errors are. */
export interface Scale {
  /** Median error of the visits; of the crossovers where there is no visit. */
  readonly medianError: number;
  readonly range: number;
}

/** A process, its covariance in the data, and its size: a standard deviation. */
export interface Component {
  readonly process: DriftProcess;
  /** n × n, at unit size. */
  readonly covariance: Float64Array;
  readonly size: number;
}

/** A kind of slow drift of one size. */
export interface DriftShape {
  readonly kind: DriftKind;
  readonly components: readonly Component[];
  readonly prior: number;
}

/** Prior probability of each kind. */
const PRIOR: Readonly<Record<DriftKind, number>> = Object.freeze({
  steady: 0.25,
  straight: 0.25,
  "warm-up": 0.2,
  swinging: 0.2,
  wandering: 0.1,
});
/** Time constants of a warming up, h: near enough to each other that none is needed between. */
const WARM_UPS_H = [0.05, 0.09, 0.15, 0.3, 0.5, 0.8, 1.3, 2];
/** The shorter ones matter where they last for this share of the checks' time. */
const [SHORT_H, SHORT_SHARE] = [0.15, 0.05];
/** Correlation lengths of a swinging level, h. */
const SWINGS_H = [0.4, 0.8, 1.6];
/** Least size of a drift that is of use, in median errors, and the ratio to the next size. */
const [LEAST_SIZE, RATIO] = [1.5, 3];

/** No drift first; the others in log-spaced sizes from the data's error to their range. */
export function shapesOf(frame: DriftFrame, scale: Scale): readonly DriftShape[] {
  const sizes = sizesOf(scale);
  const span_h = frame.span_h > 0 ? frame.span_h : 1;
  const line = componentOf(frame, straightLine(span_h));
  const lines = sizes.map((size) => [{ ...line, size }]);
  const curves = (processes: readonly DriftProcess[]) =>
    processes.flatMap((process) => curvedShapes(componentOf(frame, process), line, sizes));
  const least_h = Math.min(SHORT_H, SHORT_SHARE * span_h);
  const constants_h = WARM_UPS_H.filter((after_h) => after_h >= least_h);
  const warmUps = constants_h.map((after_h) => warmUp(after_h, span_h));
  return [
    { kind: "steady", components: [], prior: PRIOR.steady },
    ...equallyLikely("straight", lines),
    ...equallyLikely("warm-up", curves(warmUps)),
    ...equallyLikely("swinging", curves(SWINGS_H.map(swinging))),
    ...equallyLikely("wandering", curves([wandering(span_h)])),
  ];
}

function sizesOf({ medianError, range }: Scale): readonly number[] {
  const least = LEAST_SIZE * medianError;
  const more = Math.max(1, Math.ceil(Math.log(range / least) / Math.log(RATIO)));
  return Array.from({ length: more + 1 }, (_, k) => least * RATIO ** k);
}

/** A curved drift may rise on the whole as well: about as much as it curves, or much more. */
function curvedShapes(
  curve: Component,
  line: Component,
  sizes: readonly number[],
): readonly Component[][] {
  const most = lastOf(sizes);
  return sizes.flatMap((size, k) => {
    const rises = k < sizes.length - 2 ? [size, most] : [size];
    return rises.map((rise) => [
      { ...curve, size },
      { ...line, size: rise },
    ]);
  });
}

function equallyLikely(kind: DriftKind, shapes: readonly Component[][]): readonly DriftShape[] {
  return shapes.map((components) => ({ kind, components, prior: PRIOR[kind] / shapes.length }));
}

/** A process at unit size. */
export function componentOf(frame: DriftFrame, process: DriftProcess): Component {
  return { process, covariance: dataCovariance(frame, process), size: 1 };
}
