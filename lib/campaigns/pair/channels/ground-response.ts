import type { DepthSlices } from "../../../depth/depth-slices.js";
import { asEstimated } from "../../../depth/shape/shape-in-slices.js";
import { type StationForward, stationForward } from "../../../earth/station-forward.js";
import { firstOf, itemAt, valueAt } from "../../../numerics/arrays.js";
import { presentMean } from "../../../numerics/statistics/present.js";
import { median } from "../../../numerics/statistics/robust.js";
import type { CampaignPair } from "../check-pair.js";
import type { ChannelPair } from "./channel-pair.js";
import { depthError } from "./depth-spread.js";
import { seasonOf } from "./season.js";

/** What the channels do where the ground, its temperature or the height of the coils differ. */
export interface GroundResponse {
  readonly top_m: Float64Array;
  /** True where both campaigns were taken to 25 °C. */
  readonly corrected: boolean;
  /** n × q: what the season's temperature and the stated heights make of the difference, ppm. */
  readonly expected: Float64Array;
  /** n × q × m: ppm for each ln conductivity, at the later campaign's temperature. */
  readonly byLayer: Float64Array;
  /** n × q: how far that may be off where the ground's layers are not known well enough, ppm. */
  readonly seasonError: Float64Array;
  /** n × q: ppm for coils h higher than stated: first × h + second × h². */
  readonly first: Float64Array;
  readonly second: Float64Array;
  /** n × q: how far `first` may be off where the ground's layers are not known well enough. */
  readonly firstError: Float64Array;
  /** The mean ln conductivity of the earlier campaign's layers over stations. */
  readonly column: (from: number, to: number) => Float64Array;
  /** The response and derivatives of the later campaign's coils and temperature. */
  readonly forward: (station: number) => StationForward;
  /** m: ln conductivity of the later campaign less the earlier's where only the season differs. */
  readonly season: Float64Array;
}

/** Responses are worked out at this spacing and taken to the stations between by straight lines. */
const NODES_M = 10;
const HEIGHT_STEP_M = 0.15;

export function groundResponse(campaigns: CampaignPair, pair: ChannelPair): GroundResponse {
  const { earlier } = campaigns;
  const { top_m } = earlier.layers;
  const season = seasonOf(campaigns, top_m);
  const column = columns(campaigns, pair);
  const heights = coilHeights(campaigns, pair);
  const forwards = forwardsAt(pair, { top_m, shape: earlier.shape, height_m: heights(0).earlier });
  const setup = { season: season.shift, forwards };
  const part = stationParts(pair, (from, to, i) =>
    nodeResponse(column(from, to), { ...setup, heights: heights(i) }),
  );
  return {
    top_m,
    corrected: season.corrected,
    expected: part("expected"),
    byLayer: part("byLayer"),
    seasonError: part("seasonError"),
    first: part("first"),
    second: part("second"),
    firstError: part("firstError"),
    column,
    forward: (i) => forwards(heights(i).later),
    season: season.shift,
  };
}

type NodeResponse = ReturnType<typeof nodeResponse>;

type NodeAt = (from: number, to: number, station: number) => NodeResponse;

/** What nodes give, between them by straight lines, at the size of each station's own reading. */
function stationParts(pair: ChannelPair, nodeAt: NodeAt) {
  const [n, q] = [pair.chainage_m.length, pair.channels.length];
  const every = Math.max(1, Math.round(NODES_M / pair.spacing_m));
  const nodes = Array.from({ length: Math.ceil((n - 1) / every) + 1 }, (_, k) => {
    const i = Math.min(n - 1, k * every);
    return nodeAt(i - Math.floor(every / 2), i + Math.floor(every / 2), i);
  });
  const widthOf = (part: keyof NodeResponse) => firstOf(nodes)[part].length;
  const along = (part: keyof NodeResponse) => {
    const rows = nodes.map((node) => node[part]);
    return between(rows, { n, every, width: widthOf(part) });
  };
  const scale = stationScales(pair, along("response"));
  return (part: keyof NodeResponse): Float64Array =>
    along(part).map((value, e) => value * itemAt(scale, Math.floor((e * q) / widthOf(part))));
}

interface NodeSetup {
  readonly season: Float64Array;
  readonly forwards: (height_m: number) => StationForward;
  readonly heights: { readonly earlier: number; readonly later: number };
}

interface Response {
  readonly response: Float64Array;
  readonly jacobian: Float64Array;
}

function nodeResponse(earlier: Float64Array, { season, forwards, heights }: NodeSetup) {
  const later = earlier.map((value, j) => value + itemAt(season, j));
  const responseAt = (height_m: number, x: Float64Array): Response => {
    const forward = forwards(height_m);
    const response = new Float64Array(forward.data);
    const jacobian = new Float64Array(forward.data * forward.layers);
    forward.evaluate(x, response, jacobian);
    return { response, jacobian };
  };
  const before = responseAt(heights.earlier, earlier).response;
  const { response: after, jacobian: byLayer } = responseAt(heights.later, later);
  const [lower, higher] = [-HEIGHT_STEP_M, HEIGHT_STEP_M].map((off) =>
    responseAt(heights.later + off, later),
  ) as [Response, Response];
  const [low, high] = [lower.response, higher.response];
  const m = season.length;
  const rise = byLayer.map(
    (_, at) => (higher.jacobian[at]! - lower.jacobian[at]!) / (2 * HEIGHT_STEP_M),
  );
  const errorsBy = (rate: (c: number, j: number) => number) =>
    after.map((_, c) => depthError(byLayer.subarray(c * m, (c + 1) * m), (j) => rate(c, j)));
  return {
    response: before,
    expected: after.map((value, c) => value - itemAt(before, c)),
    byLayer,
    seasonError: errorsBy((_, j) => itemAt(season, j)),
    firstError: errorsBy((c, j) => itemAt(rise, c * m + j) / itemAt(byLayer, c * m + j)),
    first: high.map((value, c) => (value - itemAt(low, c)) / (2 * HEIGHT_STEP_M)),
    second: high.map(
      (value, c) => (value + itemAt(low, c) - 2 * itemAt(after, c)) / (2 * HEIGHT_STEP_M ** 2),
    ),
  };
}

/** Factors beyond these are taken for another cause than ground between two nodes. */
const LEAST_SCALE = 0.5;
const MOST_SCALE = 2;

/**
 * n × q factors that take responses between nodes to the station's own ground: its reading, mean of
 * three, over the response there. In-phase channels take that of the quadrature of their coils.
 */
function stationScales({ channels }: ChannelPair, response: Float64Array): Float64Array {
  const q = channels.length;
  const source = channels.map(({ channel }, c) => {
    if (channel.kind !== "inphase") return c;
    const { orientation, separation_m, frequency_Hz } = channel;
    return channels.findIndex(
      ({ channel: other }) =>
        other.kind !== "inphase" &&
        other.orientation === orientation &&
        other.separation_m === separation_m &&
        other.frequency_Hz === frequency_Hz,
    );
  });
  return response.map((_, at) => {
    const [i, from] = [Math.floor(at / q), itemAt(source, at % q)];
    if (from < 0) return 1;
    const { earlier } = itemAt(channels, from);
    const reading = presentMean(earlier.subarray(Math.max(0, i - 1), i + 2));
    const factor = reading / itemAt(response, i * q + from);
    return Math.max(LEAST_SCALE, Math.min(MOST_SCALE, factor)) || 1;
  });
}

/** Rows of nodes at the stations between them. */
function between(
  nodes: readonly Float64Array[],
  { n, every, width }: { readonly n: number; readonly every: number; readonly width: number },
): Float64Array {
  const out = new Float64Array(n * width);
  for (let i = 0; i < n; i++) {
    const k = Math.min(Math.floor(i / every), nodes.length - 1);
    const [low, high] = [itemAt(nodes, k), itemAt(nodes, Math.min(k + 1, nodes.length - 1))];
    const end = Math.min(n - 1, (k + 1) * every);
    const share = end > k * every ? (i - k * every) / (end - k * every) : 0;
    for (let j = 0; j < width; j++) out[i * width + j] = low[j]! + share * (high[j]! - low[j]!);
  }
  return out;
}

interface OnGround {
  readonly top_m: Float64Array;
  readonly shape: DepthSlices["shape"];
  readonly height_m: number;
}

function forwardsAt({ channels: pairs }: ChannelPair, { top_m, shape, height_m }: OnGround) {
  const made = new Map<number, StationForward>();
  const channels = pairs.map(({ channel }) => channel);
  const onItsBank = asEstimated(shape, { channels, top_m, height_m });
  return (coils_m: number) => {
    const height = Math.max(0, Math.round(100 * coils_m) / 100);
    const known = made.get(height);
    if (known !== undefined) return known;
    const forward = onItsBank(stationForward(channels, top_m, height));
    made.set(height, forward);
    return forward;
  };
}

/** Heights of the coils as measured; the median where a station has none. */
function coilHeights({ earlier, later }: CampaignPair, { station }: ChannelPair) {
  const of = ({ height_m }: DepthSlices) => {
    const known = height_m ?? Float64Array.of(1);
    const typical = median(known);
    return (i: number) => {
      const own = valueAt(known, i);
      return Number.isNaN(own) ? typical : own;
    };
  };
  const [before, after] = [of(earlier), of(later)];
  return (i: number) => ({
    earlier: before(itemAt(station.earlier, i)),
    later: after(itemAt(station.later, i)),
  });
}

/** Means over a few stations of ln conductivity, by layer; the nearest estimate where none is. */
function columns({ earlier }: CampaignPair, { station }: ChannelPair) {
  const { log10Resistivity, top_m } = earlier.layers;
  const [n, m] = [station.earlier.length, top_m.length];
  const rowAt = (i: number) => itemAt(station.earlier, i) * m;
  const typical = top_m.map((_, j) => median(log10Resistivity.filter((_, at) => at % m === j)));
  return (from: number, to: number) => {
    const sum = new Float64Array(m);
    let count = 0;
    const add = (i: number) => {
      if (i < 0 || i >= n || Number.isNaN(valueAt(log10Resistivity, rowAt(i)))) return;
      for (let j = 0; j < m; j++) sum[j]! += itemAt(log10Resistivity, rowAt(i) + j);
      count++;
    };
    for (let i = from; i <= to; i++) add(i);
    for (let off = 1; count === 0 && off < n; off++) {
      add(from - off);
      add(to + off);
    }
    const mean = count > 0 ? sum.map((value) => value / count) : typical;
    return mean.map((value) => -value * Math.LN10);
  };
}
