import type { DepthSlices } from "../../../depth/depth-slices.js";
import { itemAt } from "../../../numerics/arrays.js";
import { median } from "../../../numerics/statistics/robust.js";
import { Remembered } from "../../../step/remembered.js";
import type { DepthRange } from "../../ranges.js";
import type { DetectableChange } from "../changes.js";
import type { CampaignPair } from "../check-pair.js";
import type { CompareOptions } from "../options.js";
import { type ChannelPair, channelPair } from "./channel-pair.js";
import { type ExplainedLine, explainedLine, type GroundStretch } from "./explain/find-changes.js";
import { groundResponse } from "./ground-response.js";
import { type ModelInput, modelInput } from "./line/difference-model.js";
import { changeProfiles, profileCovariance } from "./ratio/change-profiles.js";
import { ratioPosterior, type SliceChange } from "./ratio/ratio-posterior.js";
import { detectableChanges } from "./scan/detectable.js";

/** Two campaigns compared by the channels that both walked. */
export interface ComparedChannels {
  readonly input: ModelInput;
  readonly line: ExplainedLine;
  readonly changes: readonly {
    readonly stretch: GroundStretch;
    readonly slices: readonly SliceChange[];
  }[];
  readonly detectable: readonly DetectableChange[];
}

export function comparedChannels(
  campaigns: CampaignPair,
  slices: readonly DepthRange[],
  used: CompareOptions,
): ComparedChannels | null {
  const given = [campaigns.earlier, campaigns.later].flatMap(restsOn);
  const times = `${campaigns.earlier.time_s} ${campaigns.later.time_s}`;
  const settings = `${used.alignWithin_m} ${used.level} ${times}`;
  const known = inputs.get(campaigns.earlier.layers) ?? new Remembered<ModelInput | null>(HELD);
  inputs.set(campaigns.earlier.layers, known);
  const input = known.of(given, settings, () => inputOf(campaigns, used));
  if (input === null) return null;
  const { pair, response } = input;
  const profiles = changeProfiles(response.top_m);
  const line = explainedLine(input, profiles, {
    q: used.q,
    least: Math.max(2, Math.round(used.minLength_m / pair.spacing_m)),
    join: Math.round(used.joinWithin_m / pair.spacing_m),
    mismatch_m: used.mismatch_m,
    ends: stationsAt(pair, used.offsetsAt_m),
  });
  const changes = line.stretches.map((stretch) => ({
    stretch,
    slices: keptRatio(input, stretch, { profiles, slices }),
  }));
  const prior = profileCovariance(profiles);
  const detectable = detectableChanges(input, line, { slices, q: used.q, prior });
  return { input, line, changes, detectable };
}

/** Ratios of a pair's stretches, which alternatives mostly leave as they are. */
const ratios = new WeakMap<ModelInput, Map<string, readonly SliceChange[]>>();

function keptRatio(
  input: ModelInput,
  { first, last, data }: GroundStretch,
  at: Parameters<typeof ratioPosterior>[2],
): readonly SliceChange[] {
  const known = ratios.get(input) ?? new Map<string, readonly SliceChange[]>();
  ratios.set(input, known);
  const columns = Object.entries(data).map(([name, column]) => {
    return [name, ArrayBuffer.isView(column) ? Array.from(column as Float64Array) : column];
  });
  const key = JSON.stringify([first, last, columns, at.slices]);
  const found = known.get(key) ?? ratioPosterior(input, { first, last, data }, at);
  known.set(key, found);
  return found;
}

/**
 * What pairs of campaigns rest on, for alternatives that leave them as they are: held with the earlier
 * campaign, so that alternatives of other readings in between do not push it out.
 */
const inputs = new WeakMap<object, Remembered<ModelInput | null>>();
/** Pairs and settings of one earlier campaign. */
const HELD = 2;

/** What the comparison goes by of a campaign: its slices do not enter, those of one line are alike. */
function restsOn(one: DepthSlices): readonly object[] {
  const { readings, layers, chainage_m, misfit, height_m, soilTemperature, shape } = one;
  const known = [readings, shape, height_m].filter((part) => part !== undefined);
  return readings === undefined ? [one] : [...known, layers, chainage_m, misfit, soilTemperature];
}

/** What the comparison rests on, whatever counts as a change; null without shared channels. */
function inputOf(
  campaigns: CampaignPair,
  { alignWithin_m, level }: Pick<CompareOptions, "alignWithin_m" | "level">,
): ModelInput | null {
  const pair = channelPair(campaigns, alignWithin_m);
  if (pair === null) return null;
  const response = groundResponse(campaigns, pair);
  const quality = qualities(campaigns, pair);
  return modelInput({ pair, response, quality, noise: noiseOf(pair), level });
}

function noiseOf({ channels }: ChannelPair): Float64Array {
  const q = channels.length;
  const n = itemAt(channels, 0).noise.length;
  return new Float64Array(n * q).map(
    (_, at) => itemAt(channels, at % q).noise[Math.floor(at / q)]!,
  );
}

/** Weight of a station by its misfit in either campaign against the campaign's usual one. */
function qualities({ earlier, later }: CampaignPair, { station }: ChannelPair): Float64Array {
  const of = ({ misfit }: DepthSlices, at: Int32Array) => {
    const usual = median(misfit) || 1;
    return Float64Array.from(at, (i) => Math.min(1, (2 * usual) / (misfit[i]! || usual)) ** 2);
  };
  const [a, b] = [of(earlier, station.earlier), of(later, station.later)];
  return a.map((w, i) => Math.min(w, b[i]!));
}

/** The stations that lie next to chainages within the line. */
function stationsAt({ chainage_m, spacing_m }: ChannelPair, places_m: readonly number[]): number[] {
  const first = itemAt(chainage_m, 0);
  return places_m
    .map((x) => Math.round((x - first) / spacing_m))
    .filter((i) => i > 0 && i < chainage_m.length);
}
