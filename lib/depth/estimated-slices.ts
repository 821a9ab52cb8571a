import type { Campaign } from "../survey/survey.js";
import { gatherStations, type Stations } from "./data/gather-stations.js";
import { onLine } from "./data/walked-lines.js";
import type { DepthSlices } from "./depth-slices.js";
import { ensembleLine } from "./invert/ensemble/ensemble-line.js";
import type { InvertedLine } from "./invert/inverted-line.js";
import { jointLine } from "./invert/line/joint-line.js";
import { stationLine } from "./invert/station/station-line.js";
import type { DepthOptions } from "./options.js";
import { withShape } from "./shape/shape-in-slices.js";
import { depthSlicesOf } from "./slices/depth-slices-of.js";
import { drawSlices } from "./slices/draw-slices.js";

/** The campaign's stations inverted, and averaged over slices. */
export async function estimatedSlices(given: Campaign, used: DepthOptions): Promise<DepthSlices> {
  const campaign = onLine(given, used.line);
  const gathered = gatherStations(campaign, used.spacing_m);
  const { stations, shape } = withShape(gathered, campaign, used.shape);
  const line = await invertedLine(campaign, stations, used);
  const value = { ...depthSlicesOf({ campaign, stations }, line, used), shape };
  if (line.joint === null || used.draws === 0) return value;
  return { ...value, draws: await drawSlices(line, line.joint, { slices: value.slices, used }) };
}

function invertedLine(
  campaign: Campaign,
  stations: Stations,
  used: DepthOptions,
): Promise<InvertedLine> {
  switch (used.together) {
    case "station":
      return stationLine(stations, used);
    case "line":
      return jointLine(campaign, stations, used);
    case "ensemble":
      return ensembleLine(campaign, stations, used);
  }
}
