import { symmetricEigen } from "../../../../numerics/algebra/dense.js";
import { dot } from "../../../../numerics/algebra/dot.js";
import { itemAt } from "../../../../numerics/arrays.js";
import type { DifferenceModel, ModelInput } from "../line/difference-model.js";
import { PresentFactors } from "../line/line-noise.js";

/** Share of what a change of the ground does that the directions hold. */
const HELD = 0.98;
const MOST = 3;

/** k changes of m layers: those that the channels tell best, by the prior of a change. */
export function layerModes(
  { response, meanByLayer: mean }: ModelInput,
  { q, covariance }: DifferenceModel,
  prior: Float64Array,
): readonly Float64Array[] {
  const m = response.top_m.length;
  const { whiten } = new PresentFactors(covariance, q).at(new Float64Array(q));
  const columns = Array.from({ length: m }, (_, j) =>
    whiten(Float64Array.from({ length: q }, (_, c) => mean[c * m + j]!)),
  );
  const reached = columns.map((_, i) => {
    const sum = new Float64Array(q);
    for (const [j, column] of columns.entries()) {
      for (let a = 0; a < q; a++) sum[a]! += prior[i * m + j]! * column[a]!;
    }
    return sum;
  });
  const moment = new Float64Array(q * q).map((_, at) =>
    columns.reduce((sum, column, i) => sum + column[Math.floor(at / q)]! * reached[i]![at % q]!, 0),
  );
  const { value, vector } = symmetricEigen(moment, q);
  const total = value.reduce((sum, v) => sum + Math.max(0, v), 0);
  const found: Float64Array[] = [];
  let held = 0;
  for (let k = 0; k < Math.min(q, MOST) && held < HELD * total; k++) {
    held += itemAt(value, k);
    const white = Float64Array.from({ length: q }, (_, a) => vector[a * q + k]!);
    found.push(Float64Array.from(reached, (row) => dot(row, white)));
  }
  return found;
}
