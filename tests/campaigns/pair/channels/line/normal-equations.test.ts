import { describe, it } from "vitest";
import { designOf } from "../../../../../lib/campaigns/pair/channels/line/design.js";
import { PresentFactors } from "../../../../../lib/campaigns/pair/channels/line/line-noise.js";
import type { Unknown } from "../../../../../lib/campaigns/pair/channels/line/line-unknowns.js";
import {
  solved,
  wholeEquations,
} from "../../../../../lib/campaigns/pair/channels/line/normal-equations.js";
import {
  stationData,
  weighted,
} from "../../../../../lib/campaigns/pair/channels/line/station-data.js";
import { leastSquares } from "../../../../../lib/numerics/algebra/dense.js";
import { seededRandom } from "../../../../../lib/numerics/random.js";
import { expectClose } from "../../../../support/expect-close.js";

const [N, Q] = [40, 3];

/** Three channels that are correlated, some readings missing, stations of different weight. */
function line(seed: number) {
  const random = seededRandom(seed);
  const raw = Float64Array.from({ length: N * Q }, () =>
    random.uniform() < 0.15 ? Number.NaN : random.normal(),
  );
  const weight = Float64Array.from({ length: N }, (_, i) => (i % 7 === 0 ? 0 : random.uniform()));
  const covariance = Float64Array.of(1, 0.5, 0.2, 0.5, 2, -0.3, 0.2, -0.3, 1.5);
  const unknown = (channels: readonly number[], from = 0): Unknown => {
    const k = channels.length;
    const column = Float64Array.from({ length: N * k }, (_, at) =>
      at / k < from ? 0 : random.normal(),
    );
    return { channels, column, sd: 0.5 + random.uniform() };
  };
  const whole = [unknown([0]), unknown([1]), unknown([2]), unknown([0, 2]), unknown([0, 1, 2])];
  const others = [unknown([0, 1], 11), unknown([2], 23), unknown([1, 2])];
  return { raw, weight, covariance, whole, others };
}

/** The same by singular values: whitened rows of every station, then one row for each prior. */
function byLeastSquares({ raw, weight, covariance, whole, others }: ReturnType<typeof line>) {
  const unknowns = [...whole, ...others];
  const factors = new PresentFactors(covariance, Q);
  const [rows, right]: [number[], number[]] = [[], []];
  for (let i = 0; i < N; i++) {
    if (!(weight[i]! > 0)) continue;
    const datum = raw.subarray(i * Q, (i + 1) * Q);
    const { index, whiten } = factors.at(datum);
    const columns = unknowns.map(({ channels, column }) => {
      const full = new Float64Array(Q);
      for (const [j, c] of channels.entries()) full[c] = column[i * channels.length + j]!;
      return whiten(full);
    });
    const [white, root] = [whiten(datum), Math.sqrt(weight[i]!)];
    for (const a of index.keys()) {
      rows.push(...columns.map((column) => root * column[a]!));
      right.push(root * white[a]!);
    }
  }
  for (const [a, { sd }] of unknowns.entries()) {
    rows.push(...unknowns.map((_, b) => (a === b ? 1 / sd : 0)));
    right.push(0);
  }
  return leastSquares(Float64Array.from(rows), Float64Array.from(right));
}

describe("the normal equations of a line", () => {
  it.each([1, 2, 3])("are solved as least squares of all whitened rows, seed %i", (seed) => {
    const given = line(seed);
    const { raw, weight, covariance, whole, others } = given;
    const factors = new PresentFactors(covariance, Q);
    const data = weighted(stationData(raw, Q), factors, weight);
    const design = designOf(whole, N);
    const found = solved(data, { design, whole: wholeEquations(data, design) }, others);
    const expected = byLeastSquares(given);
    for (const [a, value] of expected.entries()) {
      expectClose(found[a]!, value, { absolute: 1e-10 });
    }
  });
});
