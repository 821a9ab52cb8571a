import { Matrix, SVD } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { stationForward } from "../../lib/depth/data/station-forward.js";
import { estimateDepthSlices } from "../../lib/depth/estimate-depth-slices.js";
import { layerPrior } from "../../lib/depth/prior/layer-prior.js";
import { seededRandom } from "../../lib/numerics/random.js";
import type { Channel } from "../../lib/survey/survey.js";
import { campaignOf, channelOf } from "../support/campaign.js";
import { expectClose } from "../support/expect-close.js";

const HEIGHT_M = 0.9;

function channelsOf(
  orientations: readonly ("HCP" | "VCP")[],
  frequencies: readonly number[],
): readonly Channel[] {
  return orientations.flatMap((orientation) =>
    frequencies.flatMap((frequency_Hz) => [
      channelOf({ kind: "quadrature", frequency_Hz, orientation }),
      channelOf({ kind: "inphase", frequency_Hz, orientation }),
    ]),
  );
}

const RICH = channelsOf(["HCP", "VCP"], [1500, 4000, 9000, 25_000, 60_000]);
const POOR = channelsOf(["VCP"], [25_000]);

/** Readings without noise over one layered earth, at 12 stations. */
function walkOver(channels: readonly Channel[], top_m: readonly number[], ln: Float64Array) {
  const response = new Float64Array(channels.length);
  const jacobian = new Float64Array(channels.length * ln.length);
  stationForward(channels, Float64Array.from(top_m), HEIGHT_M).evaluate(ln, response, jacobian);
  const chainage_m = Array.from({ length: 12 }, (_, i) => 2 * i);
  const values = channels.map((_, d) => chainage_m.map(() => response[d]!));
  return {
    campaign: campaignOf({ passes: [{ channels, values, chainage_m }] }),
    response,
    jacobian,
  };
}

describe("estimateDepthSlices without noise", () => {
  const tops = [0, 1.1, 2.8];
  const slices = [
    { top_m: 0, base_m: 1.1 },
    { top_m: 1.1, base_m: 2.8 },
  ];
  const random = seededRandom(77);
  const earths = Array.from({ length: 25 }, () =>
    Float64Array.from(tops, () => Math.log(0.006) + Math.log(30) * random.uniform()),
  );

  it.each(["station", "line"] as const)(
    "finds three layers of 5.6 to 167 ohm-m within 2 %, taken by %s",
    async (together) => {
      for (const ln of earths) {
        const { campaign } = walkOver(RICH, tops, ln);
        const { value } = await estimateDepthSlices(campaign, {
          together,
          slices,
          layerTops_m: tops,
          levelSd: 2,
          layerSd: 2,
          correlation_m: 0.1,
          strengths: "given",
          proportionalNoise: 1e-4,
          floor_ppm: 0.01,
          gainSd: 0,
          walkSd: 0,
        });
        for (const [j, layer] of ln.entries()) {
          expectClose(10 ** value.layers.log10Resistivity[6 * 3 + j]!, Math.exp(-layer), {
            relative: 0.02,
          });
        }
      }
    },
  );
});

describe("independentLevels of two instruments over one earth", () => {
  const tops = [0, 0.3, 0.7, 1.2, 1.9, 2.8, 4, 6];
  const ln = Float64Array.of(-3, -3, -3.2, -3.6, -3.6, -3.2, -3, -3);
  const options = { levelSd: 1, layerSd: 0.7, correlation_m: 1 };

  /** Σ s²/(1 + s²) over the singular values of D⁻¹ J L: Rodgers 2000, section 2.4. */
  function bySingularValues(channels: readonly Channel[]): number {
    const m = tops.length;
    const { response, jacobian } = walkOver(channels, tops, ln);
    const scaled = new Matrix(
      channels.map((_, d) => {
        const sd = Math.hypot(0.02 * response[d]!, 5);
        return Array.from(jacobian.subarray(d * m, (d + 1) * m), (value) => value / sd);
      }),
    );
    const { factor } = layerPrior(Float64Array.from(tops), options);
    const values = new SVD(scaled.mmul(Matrix.from1DArray(m, m, [...factor])), {
      autoTranspose: true,
    }).diagonal;
    return values.reduce((sum, s) => sum + (s * s) / (1 + s * s), 0);
  }

  it.each([
    ["ten coil pairs", RICH],
    ["one coil pair", POOR],
  ])("is as the singular values of the response say: %s", async (_, channels) => {
    const { campaign } = walkOver(channels, tops, ln);
    const { value } = await estimateDepthSlices(campaign, { ...options, layerTops_m: tops });
    // The estimate is not quite the earth that it was made of, and is rounded to a hundredth.
    expectClose(value.independentLevels, bySingularValues(channels), { absolute: 0.06 });
  });

  it("is more by a level at least with more coil pairs, and so are resolved slices", async () => {
    const [rich, poor] = await Promise.all(
      [RICH, POOR].map(async (channels) => {
        const { campaign } = walkOver(channels, tops, ln);
        const slices = [
          { top_m: 0, base_m: 0.7 },
          { top_m: 0.7, base_m: 1.9 },
          { top_m: 1.9, base_m: 4 },
        ];
        return (await estimateDepthSlices(campaign, { ...options, layerTops_m: tops, slices }))
          .value;
      }),
    );
    expect(rich!.independentLevels).toBeGreaterThan(poor!.independentLevels + 1);
    const apart = (value: typeof rich) => value!.slices.filter((slice) => slice.toldApart).length;
    expect(apart(rich)).toBeGreaterThan(apart(poor));
  });
});
