import { itemAt } from "../../numerics/arrays.js";
import type { Stations } from "../data/gather-stations.js";
import type { LayerPrior } from "../prior/layer-prior.js";
import type { EnsemblePosterior } from "./ensemble/ensemble-posterior.js";
import type { LinePosterior } from "./line/invert-line.js";

/** Every station's layered earth, n stations × m layers, by any of the inversions. */
export interface InvertedLine extends StationGaps {
  readonly chainage_m: Float64Array;
  /** n standard deviations of the readings' chainages, m; NaN where they are not known. */
  readonly positionSd_m: Float64Array;
  readonly top_m: Float64Array;
  /** n × m, log10 of ohm-m, and its posterior standard deviation. */
  readonly log10Resistivity: Float64Array;
  readonly sd: Float64Array;
  /** Factor on the standard deviation of a weighted sum of layers by `covariance`. */
  readonly sdInflation: (weights: Float64Array) => number;
  /** n × m shares of prior variance removed. */
  readonly learned: Float64Array;
  /** n posterior covariances of ln conductivity, m × m; null in gaps. */
  readonly covariance: readonly (Float64Array | null)[];
  /** The part of it that comes from the readings' noise. */
  readonly noiseCovariance: readonly (Float64Array | null)[];
  /** n × c residuals over their deviations; NaN where there is no datum. */
  readonly residual: Float64Array;
  readonly misfit: Float64Array;
  readonly rms: number;
  readonly independentLevels: number;
  readonly prior: LayerPrior;
  /** Resolution matrix times a change of m layers, ln units: n × m, NaN without an estimate. */
  readonly timesResolution: (change: Float64Array) => Float64Array;
  /** The posterior of a joint inversion; null where each station was inverted by itself. */
  readonly joint: LinePosterior | null;
  /** The draws of an ensemble; null for the inversions by Gauss-Newton. */
  readonly ensemble: EnsemblePosterior | null;
}

/** Why stations have no estimate: "" where they have one; with its cause where set aside. */
export interface StationGaps {
  readonly gap: readonly ("" | "set aside" | "no readings")[];
  readonly gapCause: readonly string[];
}

/** A station needs readings in use of a share of the channels. */
export function stationGaps(stations: Stations, share: number): StationGaps {
  const { channels, present, cause } = stations;
  const gap = Array.from(present, (readings, i) => {
    const inUse = channels.filter((entry) => itemAt(entry.count, i) > 0).length;
    if (inUse > 0 && inUse >= share * channels.length) return "";
    return readings > 0 ? "set aside" : "no readings";
  });
  return { gap, gapCause: cause.map((text, i) => (gap[i] === "set aside" ? text : "")) };
}
