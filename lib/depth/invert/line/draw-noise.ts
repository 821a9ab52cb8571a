import type { Random } from "../../../numerics/random.js";
import { correlations } from "../../prior/line-prior.js";
import type { MapEstimate } from "./line-equations.js";

/** The random part of a draw: deviates of the readings and ties, and a draw from the prior. */
export interface DrawNoise {
  /** n × c, standard normal. */
  readonly readings: Float64Array;
  readonly ties: Float64Array;
  /** n × q and b unknowns from their prior. */
  readonly u: Float64Array;
  readonly channel: Float64Array;
}

export function drawnNoise({ data, hyper, equations }: MapEstimate, random: Random): DrawNoise {
  const { n, c, q, ties } = data;
  const normals = (length: number) => Float64Array.from({ length }, () => random.normal());
  const u = normals(n * q);
  for (const [j, correlation] of correlations(hyper.prior, data).entries()) {
    const fresh = Math.sqrt(1 - correlation * correlation);
    for (let at = q + j; at < u.length; at += q) u[at] = correlation * u[at - q]! + fresh * u[at]!;
  }
  return { readings: normals(n * c), ties: normals(ties.length), u, channel: normals(equations.b) };
}

export function opposite({ readings, ties, u, channel }: DrawNoise): DrawNoise {
  const turned = (values: Float64Array) => values.map((value) => -value);
  return { readings: turned(readings), ties: turned(ties), u: turned(u), channel: turned(channel) };
}
