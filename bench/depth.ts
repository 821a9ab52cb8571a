import { type Campaign, coilResponse, estimateDepthSlices } from "../lib/index.js";
import { seededRandom } from "../lib/numerics/random.js";
import type { Channel } from "../lib/survey/survey.js";
import { type BenchRow, timedLong } from "./timed.js";

const HEIGHT_M = 0.9;
const TOPS_M = Array.from({ length: 20 }, (_, j) =>
  Number(((0.2 * (1.12 ** j - 1)) / 0.12).toFixed(3)),
);

/** A long line: stations 1 m apart, 10 channels, 20 layers, intervals included. */
export async function benchDepth(): Promise<readonly BenchRow[]> {
  const rows: BenchRow[] = [];
  for (const km of [1, 10, 40]) {
    const campaign = longLine(1000 * km);
    const what = `depth slices, ${km} km at 1 m, 10 channels, 20 layers`;
    const work = () => estimateDepthSlices(campaign, { spacing_m: 1, layerTops_m: TOPS_M });
    rows.push(await timedLong(what, work, 1));
  }
  return rows;
}

/** A walk in both coplanar orientations over ground whose upper metre comes and goes. */
function longLine(length_m: number): Campaign {
  const channels = (["HCP", "VCP"] as const).flatMap((orientation) =>
    [1500, 4000, 10_000, 25_000, 60_000].map(
      (frequency_Hz): Channel => ({
        field: `q_${frequency_Hz}_${orientation}`,
        kind: "quadrature",
        unit: "ppm",
        frequency_Hz,
        separation_m: 1.8,
        orientation,
      }),
    ),
  );
  const n = length_m + 1;
  const random = seededRandom(7);
  const values = channels.map(() => new Float64Array(n));
  const made = new Map<number, number[]>();
  for (let i = 0; i < n; i++) {
    const swing = Math.round(10 * Math.sin(i / 40)) / 20;
    let response = made.get(swing);
    if (response === undefined) {
      response = channels.map((channel) => responseOf(swing, channel));
      made.set(swing, response);
    }
    for (const [d, value] of response.entries()) {
      values[d]![i] = value * (1 + 0.01 * random.normal()) + 8 * random.normal();
    }
  }
  return campaignOf(channels, values);
}

function responseOf(swing: number, channel: Channel): number {
  const conductivity_S_per_m = [0.03 * Math.exp(swing), 0.05, 0.02];
  const earth = { conductivity_S_per_m, thickness_m: [1, 2] };
  return coilResponse(earth, { ...channel, height_m: HEIGHT_M }).quadrature_ppm;
}

function campaignOf(channels: readonly Channel[], values: readonly Float64Array[]): Campaign {
  const count = values[0]!.length;
  const chainage_m = Float64Array.from({ length: count }, (_, i) => i);
  return {
    label: "bench",
    passes: [
      {
        resource: "walk",
        file: "walk.csv",
        instrument: { height_m: HEIGHT_M, channels },
        count,
        row: Int32Array.from({ length: count }, (_, i) => i + 2),
        line: new Array<string>(count).fill("crest"),
        time_s: chainage_m,
        easting_m: chainage_m,
        northing_m: new Float64Array(count),
        chainage_m,
        offset_m: new Float64Array(count),
        height_m: new Float64Array(count).fill(HEIGHT_M),
        values,
        setAside: values.map(() => new Uint8Array(count)),
        corrected: new Uint8Array(count),
      },
    ],
    baseChecks: [],
    notes: [],
    soilTemperature: [],
    causes: [],
    centreline: {
      easting_m: Float64Array.of(0, count),
      northing_m: Float64Array.of(0, 0),
      chainage_m: Float64Array.of(0, count),
      epsg: 32631,
    },
  };
}
