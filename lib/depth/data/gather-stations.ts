import type { Campaign, Channel } from "../../survey/survey.js";
import type { BankEffect } from "../shape/bank-effect.js";
import { readingNoise } from "./reading-noise.js";

/** One channel of one pass, averaged at the stations. */
export interface StationChannel {
  readonly channel: Channel;
  /** Name of the file's resource, for the account. */
  readonly resource: string;
  /** n means in the channel's unit; NaN where no reading in use falls on the station. */
  readonly mean: Float64Array;
  /** n numbers of readings averaged. */
  readonly count: Uint16Array;
  /** Standard deviation of one reading about its neighbours, channel's unit. */
  readonly noise: number;
  /** The part of it that other channels of the walk do not share; left out where not known. */
  readonly ownNoise?: number;
  /** Noise of one reading from repeats, without small-scale variation of the ground, if known. */
  readonly repeats?: { readonly floor: number; readonly share: number };
}

export interface Stations {
  /** n chainages, consecutive multiples of the spacing. */
  readonly chainage_m: Float64Array;
  readonly spacing_m: number;
  /** Those with a reading in use at any station; all where none has one. */
  readonly channels: readonly StationChannel[];
  /** n mean heights of the coils; NaN where no reading falls on the station. */
  readonly height_m: Float64Array;
  /** n mean standard deviations of the readings' chainages, m; NaN where they are not known. */
  readonly positionSd_m: Float64Array;
  /** n entries: how many readings with a position fall on the station, in use or set aside. */
  readonly present: Uint16Array;
  /** n entries: what the station's readings are set aside for, in a word or two; "" for none. */
  readonly cause: readonly string[];
  /** What the bank's shape does to the readings; left out where they count as over level ground. */
  readonly bank?: BankEffect;
}

/**
 * Averages every pass of a campaign at stations of equal spacing along chainage: the mean, channel
 * by channel, of the readings in use within half a spacing, those without a position left out.
 */
export function gatherStations(campaign: Campaign, spacing_m: number): Stations {
  const [low, high] = walkedRange(campaign);
  const [first, last] = [Math.round(low / spacing_m), Math.round(high / spacing_m)];
  const n = Math.max(0, last - first + 1);
  const chainage_m = Float64Array.from({ length: n }, (_, i) => (first + i) * spacing_m);
  const present = new Uint16Array(n);
  const heightSum = new Float64Array(n);
  const placeSum = new Float64Array(n);
  const cause = new Array<string>(n).fill("");
  const channels: StationChannel[] = [];
  for (const pass of campaign.passes) {
    const station = Int32Array.from(pass.chainage_m, (x) =>
      !Number.isNaN(x) ? Math.round(x / spacing_m) - first : -1,
    );
    for (let row = 0; row < pass.count; row++) {
      const at = station[row]!;
      if (at < 0) continue;
      present[at]! += 1;
      heightSum[at] = heightSum[at]! + pass.height_m[row]!;
      placeSum[at]! += pass.positionSd_m?.[row] ?? Number.NaN;
      cause[at] ||= shortCause(campaign, pass.setAside[0]?.[row] ?? 0);
    }
    const noise = readingNoise(pass);
    for (const [c, channel] of pass.instrument.channels.entries()) {
      const averaged = averageChannel(pass.values[c]!, pass.setAside[c]!, station, n);
      const repeats = noiseOfRepeats(campaign, pass.resource, channel);
      const own = {
        channel,
        resource: pass.resource,
        noise: noise.scatter[c]!,
        ownNoise: noise.own[c]!,
      };
      channels.push({ ...own, ...averaged, ...repeats });
    }
  }
  const meanOf = (sum: number, i: number) => (present[i]! > 0 ? sum / present[i]! : Number.NaN);
  const read = channels.filter(({ count }) => count.some((times) => times > 0));
  return {
    ...{ chainage_m, spacing_m, present, cause },
    channels: read.length > 0 ? read : channels,
    height_m: heightSum.map(meanOf),
    positionSd_m: placeSum.map(meanOf),
  };
}

/** The noise that an earlier step found from repeats. */
function noiseOfRepeats(campaign: Campaign, resource: string, channel: Channel) {
  const found = campaign.noise?.find(
    (entry) => entry.resource === resource && entry.channel === channel.field,
  );
  return found && { repeats: { floor: found.floor, share: found.share_pct / 100 } };
}

function shortCause(campaign: Campaign, mark: number): string {
  const cause = campaign.causes[mark - 1];
  if (cause === undefined) return "";
  return cause.object || (cause.kind === "detected" ? "not noted" : cause.kind);
}

/** First and last chainage of a campaign's readings, m; infinite and reversed without any. */
export function walkedRange({ passes }: Campaign): readonly [number, number] {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const x of passes.flatMap((pass) => [...pass.chainage_m])) {
    if (x < low) low = x;
    if (x > high) high = x;
  }
  return [low, high];
}

function averageChannel(
  values: Float64Array,
  setAside: Uint8Array,
  station: Int32Array,
  n: number,
): { mean: Float64Array; count: Uint16Array } {
  const mean = new Float64Array(n);
  const count = new Uint16Array(n);
  for (let row = 0; row < values.length; row++) {
    const at = station[row]!;
    const value = values[row]!;
    if (at < 0 || setAside[row] !== 0 || Number.isNaN(value)) continue;
    mean[at]! += value;
    count[at]! += 1;
  }
  for (let i = 0; i < n; i++) mean[i] = count[i]! > 0 ? mean[i]! / count[i]! : Number.NaN;
  return { mean, count };
}
