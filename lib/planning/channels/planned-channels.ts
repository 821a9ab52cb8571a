import { channelSensitivities } from "../../earth/channel-sensitivities.js";
import { itemAt, zipped } from "../../numerics/arrays.js";
import type { PlanOptions } from "../options.js";
import type { ProfilingPlan } from "../plan.js";
import { ORDINARY_VARIATION, variationFactor } from "../scene/ground-variation.js";
import { cutEarth, topsOf } from "../scene/layered-target.js";
import type { PlanGround } from "../scene/plan-ground.js";
import { sceneAt } from "../scene/target-scene.js";
import { whitenedRows } from "../scene/whitened-rows.js";
import { type ChannelInformation, channelInformation } from "./channel-information.js";
import type { PartWorth } from "./part-worth.js";

/** Each channel: its mark and noises, alone, left out, and what it shares about the ground. */
export function plannedChannels(
  ground: PlanGround,
  used: PlanOptions,
  worth: PartWorth,
): Pick<ProfilingPlan, "channels" | "independentLevels"> {
  const { channels } = ground.instrument;
  const { shared, levels } = informationOf(ground);
  const scene = sceneAt(ground, used, 0);
  const rows = zipped(channels, scene.channels).map(([channel, { signal, noise }], at) => {
    const { unit: _, ...rest } = channel;
    return {
      ...rest,
      mark_ppm: signal.reduce((most, one) => (Math.abs(one) > Math.abs(most) ? one : most), 0),
      noise_ppm: noise,
      ground_ppm: Math.sqrt(itemAt(ground.ground_ppm2, at * (channels.length + 1))),
      ...worth.of([at]),
      shared: itemAt(shared, at),
    };
  });
  return { channels: rows, independentLevels: levels };
}

function informationOf({ instrument, ...ground }: PlanGround): ChannelInformation {
  const { channels } = instrument;
  const earth = cutEarth(ground.earth);
  const found = channelSensitivities(channels, ground.height_m, earth);
  const factor = variationFactor(topsOf(earth), ORDINARY_VARIATION);
  const whitened = whitenedRows(found.byLnConductivity_ppm, factor, ground.plain.noise_ppm);
  return channelInformation(whitened, channels.length);
}
