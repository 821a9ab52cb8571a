import { itemAt, valueAt } from "../../numerics/arrays.js";
import { seededRandom } from "../../numerics/random.js";
import { median } from "../../numerics/statistics/robust.js";
import { crestElevationAt } from "../../survey/bank/crest-elevation.js";
import type { Campaign } from "../../survey/survey.js";
import type { Stations } from "../data/gather-stations.js";
import { gpsGaps } from "../data/gps-gaps.js";
import { rootMeanSquare } from "../data/root-mean-square.js";
import type { StationGaps } from "../data/station-gaps.js";
import type { DepthSlices, LayeredModel, Slice } from "../depth-slices.js";
import type { DepthOptions } from "../options.js";
import type { FoundLine } from "../posterior/hyperparameters.js";
import type { LineDraws } from "../posterior/line-drawer.js";
import { channelFits } from "./channel-fits.js";
import { chooseSlices, reliableDepth } from "./choose-slices.js";
import { errorEffects } from "./error-effects.js";
import { layeredModel } from "./layered-model.js";
import { meanColumns } from "./mean-columns.js";
import { reach_m } from "./reach.js";
import { resolutionOf } from "./resolution.js";
import { type SliceEstimates, sliceEstimates } from "./slice-estimates.js";
import { sliceWeights } from "./slice-weights.js";
import { toldApart } from "./told-apart.js";

export interface DrawnLine {
  readonly campaign: Campaign;
  readonly stations: Stations;
  readonly gaps: StationGaps;
  readonly line: FoundLine;
  readonly draws: LineDraws;
  readonly layers: LayeredModel;
  readonly misfit: Float64Array;
}

/** What is said of stations whatever the slices. */
export function byStation(draws: LineDraws): Pick<DrawnLine, "layers" | "misfit"> {
  return { layers: layeredModel(draws), misfit: misfits(draws) };
}

/** A line's draws as slices: means, intervals, resolution. */
export function depthSlicesOf(drawn: DrawnLine, used: DepthOptions): DepthSlices {
  const { campaign, stations, line, draws, gaps, layers, misfit } = drawn;
  const resolution = resolutionOf(meanColumns(draws), draws.top_m, line);
  const auto = used.slices === "auto";
  const chosen =
    used.slices === "auto"
      ? chooseSlices(draws, resolution, { sliceSd: used.sliceSd, deepest_m: deepest(stations) })
      : used.slices;
  const { bounded, drawn: rows, ...estimates } = sliceEstimates(draws, chosen, resolution);
  const slices = chosen.map((slice, k): Slice => {
    // Some tolerance, so that slices chosen on one campaign are reliable on its repeat too.
    const known = median(itemAt(estimates.sd, k)) <= 1.15 * used.sliceSd;
    const { top_m, base_m } = slice;
    const reliable = auto ? (slice as Slice).reliable : known;
    const apart = toldApart(estimates.averaging, k);
    return { top_m, base_m, reliable, toldApart: apart, bounded: itemAt(bounded, k) };
  });
  return {
    campaign: campaign.label,
    time_s: meanTime(campaign),
    chainage_m: stations.chainage_m,
    spacing_m: used.spacing_m,
    slices,
    ...estimates,
    ...(used.draws > 0 && { draws: handedOn(rows, draws, used) }),
    ...gaps,
    gpsGaps: gpsGaps(campaign, used.spacing_m),
    ...crestOf(campaign, stations),
    ...{ height_m: stations.height_m, positionSd_m: stations.positionSd_m },
    ...{ members: draws.effective, misfit },
    channels: channelFits(stations, draws, line),
    errorEffects: sliceWeights(draws.top_m, slices).map((weights) =>
      errorEffects(resolution, line.level, weights),
    ),
    rms: rootMeanSquare(misfit),
    reliableTo_m: reliableDepth(slices),
    independentLevels: Math.round(100 * resolution.levels) / 100,
    layers,
    readings: stations.channels,
    soilTemperature: campaign.soilTemperature,
    centreline: campaign.centreline,
  };
}

/** Root mean square over channels of the readings' errors over their noise. */
function misfits({ squares, effective }: LineDraws): Float64Array {
  const width = squares.length / effective.length;
  return effective.map((_, i) =>
    rootMeanSquare(squares.subarray(i * width, (i + 1) * width).map(Math.sqrt)),
  );
}

/** [draw][slice] of n values: draws are made in the order of members, and handed on in any. */
function handedOn(
  rows: SliceEstimates["drawn"],
  { draws, effective }: LineDraws,
  used: DepthOptions,
): readonly (readonly Float64Array[])[] {
  const random = seededRandom(used.seed);
  const order = Array.from({ length: draws }, (_, d) => d);
  for (let d = draws - 1; d > 0; d--) {
    const other = random.integer(d + 1);
    [order[d], order[other]] = [itemAt(order, other), itemAt(order, d)];
  }
  return order
    .slice(0, used.draws)
    .map((d) => rows.map((row) => effective.map((_, i) => valueAt(row, i * draws + d))));
}

function crestOf({ crest }: Campaign, { chainage_m }: Stations): Partial<DepthSlices> {
  if (crest === undefined) return {};
  return { crestElevation_m: chainage_m.map((x) => crestElevationAt(crest, x)) };
}

function meanTime({ passes }: Campaign): number {
  const times = passes.flatMap((pass) => [...pass.time_s]).filter((time) => !Number.isNaN(time));
  return times.reduce((sum, time) => sum + time, 0) / times.length;
}

/** How deep the stations' channels see, m. */
function deepest({ channels, height_m }: Stations): number {
  const usual_m = median(height_m) || 0;
  return reach_m(channels.map(({ channel }) => ({ ...channel, height_m: usual_m })));
}
