import type { DepthSlices } from "../../../depth/depth-slices.js";
import { sliceWeights } from "../../../depth/slices/slice-weights.js";
import { itemAt } from "../../../numerics/arrays.js";
import { median } from "../../../numerics/statistics/robust.js";
import { type DepthRange, depthText } from "../../ranges.js";
import { shiftsTo25 } from "../../to-25-degrees.js";
import type { Change, Changes, OffsetStretch } from "../changes.js";
import type { CampaignPair } from "../check-pair.js";
import type { Comparison } from "../compared.js";
import type { CompareOptions } from "../options.js";
import { outsideStretches } from "../shared-ground.js";
import { sharedSlices } from "../shared-slices.js";
import { stationRange, unknownStretches } from "../unknown-stretches.js";
import { channelCautions } from "./channel-cautions.js";
import type { ChannelPair } from "./channel-pair.js";
import { type ComparedChannels, comparedChannels } from "./compare-channels.js";
import { type ExplainedOffset, NEARLY } from "./explain/ground-rivals.js";
import type { Offset } from "./line/offsets.js";
import type { SliceChange } from "./ratio/ratio-posterior.js";
import { stationRatios } from "./ratio/station-ratios.js";

/** Campaigns compared by the channels that both walked; null where they share none. */
export function comparedByChannels(pair: CampaignPair, used: CompareOptions): Comparison | null {
  const slices = deeper(sharedSlices(pair.earlier, pair.later).slices, pair.earlier.layers.top_m);
  const compared = comparedChannels(pair, slices, used);
  if (compared === null) return null;
  const value = changesOf(pair, compared, { slices, used });
  return {
    value,
    corrected: compared.input.response.corrected,
    cautions: channelCautions(pair, compared, value),
  };
}

/** Depth to which the change of a stretch is told at least, m. */
const TOLD_TO_M = 3.5;

/** Slices continued downward, each about twice as deep as the one above, to layers' borders. */
export function deeper(slices: readonly DepthRange[], top_m: Float64Array): readonly DepthRange[] {
  const out = slices.map((slice) => ({ top_m: slice.top_m, base_m: slice.base_m }));
  for (let above = out.at(-1)?.base_m ?? 0; above < TOLD_TO_M; above = out.at(-1)?.base_m ?? 0) {
    const base_m = top_m.find((top) => top >= Math.max(1, 2 * above) - 1e-9);
    if (base_m === undefined) break;
    out.push({ top_m: above, base_m });
  }
  return out;
}

interface Shown {
  readonly slices: readonly DepthRange[];
  readonly used: CompareOptions;
}

function changesOf(pair: CampaignPair, compared: ComparedChannels, shown: Shown): Changes {
  const { earlier, later } = pair;
  const names = { earlier: earlier.campaign, later: later.campaign };
  const { input, line } = compared;
  const { chainage_m, spacing_m, shift_m, shiftSd_m } = input.pair;
  const unknown = missing(input.pair);
  const ratios = stationRatios(input, line, { ...shown, unknown });
  const outside = outsideStretches(earlier, later);
  return {
    ...names,
    by: "channels",
    changes: compared.changes.map(({ stretch, slices }) => ({
      ...names,
      ...stationRange(input.pair, stretch.first, stretch.last),
      ...effectOf(slices, stretch.sign),
      q: stretch.p,
      ...heightOf(stretch.why),
    })),
    offsets: line.offsets.filter(isTold).map((one) => offsetStretch(input.pair, one)),
    unexplained: line.unexplained.map(({ first, last, p }) => ({
      ...stationRange(input.pair, first, last),
      q: p,
    })),
    chainage_m,
    log10Ratio: ratios.log10,
    sd: ratios.sd,
    level:
      shown.used.level === "none"
        ? shown.slices.map(() => 0)
        : levels(pair, compared, shown.slices),
    slices: shown.slices,
    ...(shiftSd_m.some((sd) => sd > 0) && { shift_m, shiftSd_m }),
    detectable: compared.detectable,
    unknown: unknownStretches({ chainage_m, spacing_m, unknown, outside }),
  };
}

/** True where no channel has a reading in both campaigns. */
const missing = ({ channels, chainage_m }: ChannelPair) =>
  Array.from(chainage_m, (_, i) => channels.every(({ difference }) => Number.isNaN(difference[i])));

type Effect = Pick<Change, "direction" | "ratio" | "ratioInterval" | "bySlice" | "slices">;

/** The ratio by slice; the headline is that of the slice whose change is surest. */
function effectOf(all: readonly SliceChange[], sign: 1 | -1): Effect {
  const bySlice = all.map(({ top_m, base_m, median: middle, lo, hi }) => ({
    top_m,
    base_m,
    ratio: factor(middle),
    interval: [factor(lo), factor(hi)] as const,
  }));
  const sureness = all.map(({ mean, sd }) => (sign * mean) / sd);
  const strongest = sureness.indexOf(Math.max(...sureness));
  const { ratio, interval } = itemAt(bySlice, strongest);
  const shows = all.filter(({ lo, hi }, k) => k === strongest || sign * (sign > 0 ? lo : hi) > 0);
  return {
    direction: sign > 0 ? "rose" : "fell",
    ratio,
    ratioInterval: interval,
    bySlice,
    slices: shows.map(depthText),
  };
}

/** The factor of a change in ln, to four digits. */
const factor = (ln: number) => Number(Math.exp(ln).toPrecision(4));

function heightOf({ ground, height }: ComparedChannels["changes"][number]["stretch"]["why"]) {
  if (!(height.evidence > ground - NEARLY)) return {};
  return { heightOffset_m: meanHeight(height.value) };
}

const meanHeight = (value: Float64Array) =>
  Number((value.reduce((sum, h) => sum + h, 0) / value.length).toFixed(3));

/** Smaller offsets than these are not told: m, ppm. */
const TOLD = { height: 0.01, zero: 3 };
const isTold = ({ kind, value }: Offset) => value.some((one) => Math.abs(one) >= TOLD[kind]);

function offsetStretch(pair: ChannelPair, one: ExplainedOffset): OffsetStretch {
  const { first, last, kind, value, orGround } = one;
  const height_m = kind === "height" ? meanHeight(value) : 0;
  return { ...stationRange(pair, first, last), kind, height_m, ...(orGround && { orGround }) };
}

/** By slice, the median difference of the campaigns' estimates where nothing changed, log10. */
function levels(
  { earlier, later }: CampaignPair,
  { input, line }: ComparedChannels,
  slices: readonly DepthRange[],
): readonly number[] {
  const { station } = input.pair;
  const [before, after] = [layerMeans(earlier, slices), layerMeans(later, slices)];
  const season = [earlier, later].map((one) => shiftsTo25(one, slices));
  const stable = (i: number) => itemAt(line.model.weight, i) > 0;
  return slices.map((_, k) => {
    const shift = (season[1]?.[k] ?? 0) - (season[0]?.[k] ?? 0);
    const all = Float64Array.from(station.earlier, (at, i) =>
      stable(i) ? itemAt(after, k)[itemAt(station.later, i)]! - itemAt(before, k)[at]! : Number.NaN,
    );
    return (median(all) || 0) + (season.includes(null) ? 0 : shift);
  });
}

function layerMeans({ layers, chainage_m }: DepthSlices, slices: readonly DepthRange[]) {
  const m = layers.top_m.length;
  return sliceWeights(layers.top_m, slices).map((weights) =>
    chainage_m.map((_, i) =>
      weights.reduce((sum, w, j) => sum + (w > 0 ? w * layers.log10Resistivity[i * m + j]! : 0), 0),
    ),
  );
}
