import type { Campaign } from "../../../survey/survey.js";
import type { Stations } from "../../data/gather-stations.js";
import { rootMeanSquare } from "../../data/root-mean-square.js";
import type { DepthOptions } from "../../options.js";
import { type InvertedLine, type StationGaps, stationGaps } from "../inverted-line.js";
import { ensembleMoments } from "./ensemble-moments.js";
import { ensemblePosterior } from "./ensemble-posterior.js";
import { ensembleReadings } from "./ensemble-readings.js";
import { type LineDraws, lineEnsemble } from "./line-ensemble.js";

/** Members of the prior, and draws of each station. */
const MEMBERS = 20_000;
const DRAWS = 100;

/** Estimates a campaign's stations by the ensemble. */
export async function ensembleLine(
  campaign: Campaign,
  stations: Stations,
  used: DepthOptions,
): Promise<InvertedLine> {
  const { seed, progress } = used;
  const top_m = Float64Array.from(used.layerTops_m);
  const settings = { top_m, members: MEMBERS, draws: DRAWS, seed, progress };
  const draws = await lineEnsemble(ensembleReadings(campaign, stations, used), settings);
  const gaps = stationGaps(stations, used.channelShare);
  const misfit = misfits(draws, gaps.gap);
  return {
    chainage_m: stations.chainage_m,
    ...gaps,
    positionSd_m: stations.positionSd_m,
    top_m,
    ...ensembleMoments(draws, gaps.gap),
    sdInflation: () => 1,
    residual: draws.residual,
    misfit,
    rms: rootMeanSquare(misfit),
    joint: null,
    ensemble: ensemblePosterior(draws, gaps.gap),
  };
}

/** Root mean square over channels and draws of the readings' errors over their noise. */
function misfits({ squares }: LineDraws, gap: StationGaps["gap"]): Float64Array {
  const c = squares.length / gap.length;
  return Float64Array.from(gap, (why, i) =>
    why === "" ? rootMeanSquare(squares.slice(i * c, (i + 1) * c).map(Math.sqrt)) : Number.NaN,
  );
}
