import { channelSensitivities, ppmPerUnit } from "../../earth/channel-sensitivities.js";
import type { ConductiveEarth } from "../../earth/coil-response.js";
import { rowProducts } from "../../numerics/algebra/dot.js";
import type { Instrument } from "../../survey/survey.js";
import type { PlanOptions } from "../options.js";
import type { PlanInput } from "../plan.js";
import type { Footprint } from "./footprint.js";
import { variationFactor } from "./ground-variation.js";
import { bothGrounds, topsOf } from "./layered-target.js";
import { targetFootprints } from "./target-footprint.js";
import { whitenedRows } from "./whitened-rows.js";

/** Everything about a plan that does not hang on where the readings fall. */
export interface PlanGround extends PlanInput {
  readonly height_m: number;
  /** Over the plain ground, and over the target's if it had no end. */
  readonly plain: GroundResponse;
  readonly full: GroundResponse;
  /** c × c covariance of the ground's natural variation, ppm². */
  readonly ground_ppm2: Float64Array;
  /** For each channel the footprint at the target's depths; the target's length is not in it. */
  readonly below: readonly Footprint[];
}

/** c channels over one ground. */
export interface GroundResponse {
  readonly response_ppm: Float64Array;
  /** Noise of one reading, averaged over the walks. */
  readonly noise_ppm: Float64Array;
  /** c × m changes for one standard deviation of each of m independent variations. */
  readonly rows_ppm: Float64Array;
}

/** Responses, noise, natural variation and footprints of one instrument at one height. */
export function planGround(
  { instrument, earth, target }: PlanInput,
  used: PlanOptions,
): PlanGround {
  const height_m = used.height_m ?? instrument.height_m;
  const grounds = bothGrounds(earth, target);
  const factor = variationFactor(topsOf(grounds.plain), {
    levelSd: 0,
    layerSd: Math.max(used.groundSd, 1e-9),
    correlation_m: used.groundDepth_m,
  });
  const ones = new Float64Array(instrument.channels.length).fill(1);
  const over = (ground: ConductiveEarth): GroundResponse => {
    const found = channelSensitivities(instrument.channels, height_m, ground);
    return {
      response_ppm: found.response_ppm,
      noise_ppm: noiseOf(instrument, found.response_ppm, used),
      rows_ppm: whitenedRows(found.byLnConductivity_ppm, factor, ones),
    };
  };
  const plain = over(grounds.plain);
  return {
    instrument,
    earth,
    target,
    height_m,
    plain,
    full: over(grounds.full),
    ground_ppm2: rowProducts(plain.rows_ppm, ones.length),
    below: targetFootprints(instrument.channels, height_m, target),
  };
}

function noiseOf(
  { channels }: Instrument,
  response_ppm: Float64Array,
  used: PlanOptions,
): Float64Array {
  return Float64Array.from(channels, (channel, c) => {
    // Repeats that are alike to the last digit say nothing of the noise.
    const measured = used.noise.find(
      (one) => one.channel === channel.field && (one.floor > 0 || one.share_pct > 0),
    );
    const usual = channel.kind === "inphase" ? used.inphaseFloor_ppm : used.quadratureFloor_ppm;
    const floor = measured ? measured.floor * ppmPerUnit(channel) : usual;
    const share = measured ? measured.share_pct / 100 : used.proportionalNoise;
    return Math.hypot(floor, share * response_ppm[c]!) / Math.sqrt(used.walks);
  });
}
