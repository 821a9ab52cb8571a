// A campaign that an instrument of several frequencies would give over known layered ground.
import { type CoilReading, type Coils, coilResponse } from "../../lib/earth/coil-response.js";
import { Remembered } from "../../lib/numerics/functions/remembered.js";
import { seededRandom } from "../../lib/numerics/random.js";
import type { Campaign, Channel, Orientation } from "../../lib/survey/survey.js";
import { campaignOf, channelOf, type PassSketch } from "./campaign.js";

export interface Ground {
  readonly conductivity_S_per_m: readonly number[];
  readonly thickness_m: readonly number[];
}

export interface WalkSketch {
  /** The ground under each chainage. */
  readonly groundAt: (chainage_m: number) => Ground;
  readonly length_m: number;
  /** Default 2 m. */
  readonly spacing_m?: number;
  /** Default both coplanar orientations. */
  readonly orientations?: readonly Orientation[];
  /** Default five from 1.5 to 60 kHz. */
  readonly frequencies_Hz?: readonly number[];
  /** 1 for 1 % and floors of 10 ppm quadrature, 25 ppm in-phase; 0 (the default) for none. */
  readonly noise?: number;
  readonly seed?: number;
  readonly label?: string;
}

const FIVE = [1500, 4000, 10_000, 25_000, 60_000];

export function walked(sketch: WalkSketch): Campaign {
  const spacing = sketch.spacing_m ?? 2;
  const chainage_m = Array.from(
    { length: Math.floor(sketch.length_m / spacing) + 1 },
    (_, i) => i * spacing,
  );
  const random = seededRandom(sketch.seed ?? 1);
  const passes = (sketch.orientations ?? ["HCP", "VCP"]).map((orientation): PassSketch => {
    const channels = (sketch.frequencies_Hz ?? FIVE).flatMap((frequency_Hz) => [
      channelOf({ kind: "quadrature", frequency_Hz, orientation }),
      channelOf({ kind: "inphase", frequency_Hz, orientation }),
    ]);
    const values = channels.map((channel) =>
      chainage_m.map((x) => {
        const value = responseOf(sketch.groundAt(x), channel);
        const floor = channel.kind === "inphase" ? 25 : 10;
        return value + (sketch.noise ?? 0) * Math.hypot(0.01 * value, floor) * random.normal();
      }),
    );
    return { channels, values, chainage_m, resource: `walk-${orientation.toLowerCase()}` };
  });
  return campaignOf({ passes, ...(sketch.label === undefined ? {} : { label: sketch.label }) });
}

export function responseOf(ground: Ground, channel: Channel, height_m = 0.9): number {
  const { orientation, separation_m, frequency_Hz } = channel;
  const reading = keptReading(ground, { orientation, separation_m, frequency_Hz, height_m });
  return channel.kind === "inphase" ? reading.inphase_ppm : reading.quadrature_ppm;
}

const readings = new Remembered<CoilReading>(4096);

/** Grounds and coil pairs come again: from station to station, and for both parts of a reading. */
function keptReading(ground: Ground, coils: Coils): CoilReading {
  return readings.get(JSON.stringify([ground, coils]), () => coilResponse(ground, coils));
}
