import { channelSensitivities, ppmPerUnit } from "../../earth/channel-sensitivities.js";
import type { CoilGeometry } from "../../earth/coil-quadrature.js";
import type { ConductiveEarth } from "../../earth/coil-response.js";
import { gaussLegendre } from "../../numerics/gauss-legendre.js";
import type { Instrument } from "../../survey/survey.js";
import type { TargetScene } from "../detection/matched-filter.js";
import type { PlanOptions } from "../options.js";
import type { PlanTarget } from "../plan.js";
import { type Footprint, footprint } from "./footprint.js";
import { variationFactor, whitenedRows } from "./ground-variation.js";
import { bothGrounds, topsOf } from "./layered-target.js";

/** Everything about a plan that does not hang on where the readings fall. */
export interface PlanGround {
  readonly earth: ConductiveEarth;
  readonly target: PlanTarget;
  readonly height_m: number;
  /** c responses over the plain ground, and over the target's if it had no end, ppm. */
  readonly plain_ppm: Float64Array;
  readonly full_ppm: Float64Array;
  /** Noise of a reading over either. */
  readonly noise_ppm: Float64Array;
  readonly fullNoise_ppm: Float64Array;
  /** c × m changes for one standard deviation of each of m independent variations, over either. */
  readonly plainRows_ppm: Float64Array;
  readonly fullRows_ppm: Float64Array;
  /** c × c covariance of the ground's natural variation, ppm². */
  readonly ground_ppm2: Float64Array;
  /** For each channel the footprint at the target's depths; the target's length is not in it. */
  readonly below: readonly Footprint[];
}

/** Responses, noise, natural variation and footprints of one instrument at one height. */
export function planGround(
  instrument: Instrument,
  earth: ConductiveEarth,
  { target, used }: { readonly target: PlanTarget; readonly used: PlanOptions },
): PlanGround {
  const height_m = used.height_m ?? instrument.height_m;
  const { channels } = instrument;
  const { plain, full } = bothGrounds(earth, target);
  const factor = variationFactor(topsOf(plain), {
    levelSd: 0,
    layerSd: Math.max(used.groundSd, 1e-9),
    correlation_m: used.groundDepth_m,
  });
  const ones = new Float64Array(channels.length).fill(1);
  const [here, there] = [plain, full].map((one) => {
    const { response_ppm, byLnConductivity_ppm } = channelSensitivities(channels, height_m, one);
    return { response_ppm, rows: whitenedRows(byLnConductivity_ppm, factor, ones) };
  });
  return {
    earth,
    target,
    height_m,
    plain_ppm: here!.response_ppm,
    full_ppm: there!.response_ppm,
    noise_ppm: noiseOf(instrument, here!.response_ppm, used),
    fullNoise_ppm: noiseOf(instrument, there!.response_ppm, used),
    plainRows_ppm: here!.rows,
    fullRows_ppm: there!.rows,
    ground_ppm2: outer(here!.rows, channels.length),
    below: footprintsOf(instrument, height_m, target),
  };
}

/** c × m times its transpose. */
function outer(rows: Float64Array, c: number): Float64Array {
  const m = rows.length / c;
  return Float64Array.from({ length: c * c }, (_, at) => {
    const [a, b] = [Math.floor(at / c) * m, (at % c) * m];
    let sum = 0;
    for (let k = 0; k < m; k++) sum += rows[a + k]! * rows[b + k]!;
    return sum;
  });
}

/** Noise of one reading, averaged over the walks, ppm. */
function noiseOf(
  { channels }: Instrument,
  response_ppm: Float64Array,
  used: PlanOptions,
): Float64Array {
  return Float64Array.from(channels, (channel, c) => {
    const measured = used.noise.find((one) => one.channel === channel.field);
    const usual = channel.kind === "inphase" ? used.inphaseFloor_ppm : used.quadratureFloor_ppm;
    const floor = measured ? measured.floor * ppmPerUnit(channel) : usual;
    const share = measured ? measured.share_pct / 100 : used.proportionalNoise;
    return Math.hypot(floor, share * response_ppm[c]!) / Math.sqrt(used.walks);
  });
}

/** Footprints are worked out once for each coil pair. */
function footprintsOf({ channels }: Instrument, height_m: number, target: PlanTarget): Footprint[] {
  const made = new Map<string, Footprint>();
  return channels.map(({ orientation, separation_m }) => {
    const key = `${orientation} ${separation_m}`;
    const below = made.get(key) ?? footprintOf({ orientation, separation_m, height_m }, target);
    made.set(key, below);
    return below;
  });
}

/** The share of a target's full change that coils have with their middle at x, the target's at 0. */
export function targetShare(below: Footprint, target: PlanTarget): (x_m: number) => number {
  if (target.kind === "boundary") return (x) => 1 - below(-x);
  const half = target.length_m / 2;
  return (x) => below(half - x) - below(-half - x);
}

/** Footprints at several depths of the target, by how much each depth shows there. */
export function footprintOf(coils: CoilGeometry, target: PlanTarget): Footprint {
  const { separation_m, height_m } = coils;
  const top = target.kind === "lens" ? target.top_m : 0;
  const base = target.kind === "lens" ? target.base_m : 4 * (separation_m + height_m);
  const rule = gaussLegendre(target.kind === "lens" ? 4 : 8);
  const parts = Array.from(rule.node, (node, k) => {
    const depth_m = top + ((1 + node) / 2) * (base - top);
    const weight = rule.weight[k]! * relativeResponse(coils, depth_m);
    return { weight, below: footprint(coils, depth_m) };
  });
  const whole = parts.reduce((sum, part) => sum + part.weight, 0);
  return (x) => parts.reduce((sum, part) => sum + part.weight * part.below(x), 0) / whole;
}

/** Relative low-induction response of a thin layer (McNeill 1980), up to a factor. */
function relativeResponse({ orientation, separation_m, height_m }: CoilGeometry, depth_m: number) {
  const z = (depth_m + height_m) / separation_m;
  const root = Math.sqrt(4 * z * z + 1);
  if (orientation === "HCP") return (4 * z) / root ** 3;
  if (orientation === "VCP") return 2 / (root * (root + 2 * z));
  return 2 / root ** 3;
}

/** The scene with readings every spacing, the target's middle `phase` of a spacing past one. */
export function sceneAt(ground: PlanGround, used: PlanOptions, phase: number): TargetScene {
  const x = stationsAbout(ground.target, used, phase);
  const share = ground.below.map((below) => x.map(targetShare(below, ground.target)));
  const between = (plain: Float64Array, full: Float64Array) =>
    share.map((row, c) => row.map((part) => plain[c]! + part * (full[c]! - plain[c]!)));
  return {
    signal: share.map((row, c) =>
      row.map((part) => part * (ground.full_ppm[c]! - ground.plain_ppm[c]!)),
    ),
    noise: ground.noise_ppm,
    ground: ground.ground_ppm2,
    correlation: used.groundLength_m / used.spacing_m,
    plain: ground.plainRows_ppm,
    full: ground.fullRows_ppm,
    share,
    noiseOver: between(ground.noise_ppm, ground.fullNoise_ppm),
  };
}

/** Chainages of the readings about the target's middle, its window on either side, m. */
export function stationsAbout(
  target: PlanTarget,
  { spacing_m, window_m }: PlanOptions,
  phase: number,
): Float64Array {
  const half = window_m + (target.kind === "lens" ? target.length_m / 2 : 0);
  const each = Math.max(1, Math.floor(half / spacing_m));
  return Float64Array.from({ length: 2 * each + 1 }, (_, i) => (i - each - phase) * spacing_m);
}

/** The part of a scene that some channels make. */
export function onlyChannels(scene: TargetScene, kept: readonly number[]): TargetScene {
  const c = scene.signal.length;
  const m = scene.plain.length / c;
  const rows = (all: Float64Array) =>
    Float64Array.from({ length: kept.length * m }, (_, at) => {
      return all[kept[Math.floor(at / m)]! * m + (at % m)]!;
    });
  return {
    signal: kept.map((at) => scene.signal[at]!),
    noise: kept.map((at) => scene.noise[at]!),
    ground: Float64Array.from(kept.flatMap((a) => kept.map((b) => scene.ground[a * c + b]!))),
    correlation: scene.correlation,
    plain: rows(scene.plain),
    full: rows(scene.full),
    share: kept.map((at) => scene.share[at]!),
    noiseOver: kept.map((at) => scene.noiseOver[at]!),
  };
}
