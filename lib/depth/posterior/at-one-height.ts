import { median } from "../../numerics/statistics/robust.js";
import type { LineReadings } from "../data/line-readings.js";
import type { Directions } from "./directions.js";

/** How uncertain the correction to one height is, as a share of it. */
const HEIGHT_SHARE = 0.1;

/**
 * Readings as with the coils at the responses' height. The change of a scaled reading t with height
 * is near g tanh t, with one g for a channel whatever the ground: g is the median of the members'.
 */
export function atOneHeight(readings: LineReadings, directions: Directions): LineReadings {
  const { responses, ensemble, channels: c } = directions;
  const { channels } = readings;
  const rate = Float64Array.from({ length: channels.length }, (_, d) =>
    median(
      Float64Array.from({ length: Math.min(ensemble.count, 500) }, (_, k) => {
        const at = k * c + d;
        return responses.byHeight[at]! / Math.tanh(responses.value[at]!);
      }),
    ),
  );
  const moved = readings.value.map((value, at) => {
    const off_m = readings.height_m[Math.floor(at / c)]! - responses.height_m;
    return off_m === 0 || at % c >= channels.length ? 0 : off_m * rate[at % c]! * Math.tanh(value);
  });
  return {
    ...readings,
    value: readings.value.map((value, at) => value - moved[at]!),
    known: readings.known.map((sd, at) => Math.hypot(sd, HEIGHT_SHARE * moved[at]!)),
  };
}
