import type { Campaign } from "../survey/survey.js";
import { gatherStations } from "./data/gather-stations.js";
import { lineReadings } from "./data/line-readings.js";
import { stationGaps } from "./data/station-gaps.js";
import type { DepthSlices } from "./depth-slices.js";
import type { DepthOptions } from "./options.js";
import { lineDraws } from "./posterior/line-draws.js";
import { withShape } from "./shape/shape-in-slices.js";
import { byStation, depthSlicesOf } from "./slices/depth-slices-of.js";

/** Draws that a station's mean and intervals are taken over. */
const DRAWS = 128;

/** The campaign's stations drawn from their posterior, and averaged over slices. */
export async function estimatedSlices(
  campaign: Campaign,
  used: DepthOptions,
): Promise<DepthSlices> {
  const { shape, ...drawn } = await keptLine(campaign, used, () => drawnLine(campaign, used));
  return { ...depthSlicesOf({ campaign, ...drawn }, used), shape };
}

async function drawnLine(campaign: Campaign, used: DepthOptions) {
  const gathered = gatherStations(campaign, used.spacing_m);
  const { stations, shape } = withShape(gathered, campaign, used.shape);
  const gaps = stationGaps(stations, used.channelShare);
  const { line, draws } = await lineDraws(lineReadings(campaign, stations, used), {
    top_m: Float64Array.from(used.layerTops_m),
    draws: Math.max(DRAWS, used.draws),
    seed: used.seed,
    wanted: (i) => gaps.gap[i] === "",
    progress: used.progress,
  });
  return { shape, stations, gaps, line, draws, ...byStation(draws) };
}

type Line = Awaited<ReturnType<typeof drawnLine>>;

/** The last line of each campaign, and the options it was drawn with: other slices need no other. */
const kept = new WeakMap<Campaign, { readonly text: string; readonly line: Line }>();

async function keptLine(
  campaign: Campaign,
  used: DepthOptions,
  make: () => Promise<Line>,
): Promise<Line> {
  const { slices: _, sliceSd: __, progress: ___, ...others } = used;
  const text = JSON.stringify(others);
  const known = kept.get(campaign);
  if (known?.text === text) return known.line;
  const line = await make();
  kept.set(campaign, { text, line });
  return line;
}
