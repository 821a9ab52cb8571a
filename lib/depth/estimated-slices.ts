import type { Campaign } from "../survey/survey.js";
import { gatherStations } from "./data/gather-stations.js";
import { lineReadings } from "./data/line-readings.js";
import { stationGaps } from "./data/station-gaps.js";
import type { DepthSlices } from "./depth-slices.js";
import type { DepthOptions } from "./options.js";
import { lineDraws } from "./posterior/line-draws.js";
import { withShape } from "./shape/shape-in-slices.js";
import { depthSlicesOf } from "./slices/depth-slices-of.js";

/** Draws that a station's mean and intervals are taken over. */
const DRAWS = 128;

/** The campaign's stations drawn from their posterior, and averaged over slices. */
export async function estimatedSlices(
  campaign: Campaign,
  used: DepthOptions,
): Promise<DepthSlices> {
  const gathered = gatherStations(campaign, used.spacing_m);
  const { stations, shape } = withShape(gathered, campaign, used.shape);
  const gaps = stationGaps(stations, used.channelShare);
  const { line, draws } = await keptDraws(campaign, used, () =>
    lineDraws(lineReadings(campaign, stations, used), {
      top_m: Float64Array.from(used.layerTops_m),
      draws: Math.max(DRAWS, used.draws),
      seed: used.seed,
      wanted: (i) => gaps.gap[i] === "",
      progress: used.progress,
    }),
  );
  return { ...depthSlicesOf({ campaign, stations, gaps, line, draws }, used), shape };
}

type Drawn = Awaited<ReturnType<typeof lineDraws>>;

/** The last draws of each campaign, and the options they were made with: other slices need no others. */
const kept = new WeakMap<Campaign, { readonly text: string; readonly drawn: Drawn }>();

async function keptDraws(
  campaign: Campaign,
  used: DepthOptions,
  make: () => Promise<Drawn>,
): Promise<Drawn> {
  const { slices: _, sliceSd: __, progress: ___, ...others } = used;
  const text = JSON.stringify(others);
  const known = kept.get(campaign);
  if (known?.text === text) return known.drawn;
  const drawn = await make();
  kept.set(campaign, { text, drawn });
  return drawn;
}
