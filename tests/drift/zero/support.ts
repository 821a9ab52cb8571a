import type { HeightReading } from "../../../lib/drift/zero/height-readings.js";
import { coilResponse } from "../../../lib/earth/coil-response.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { noiseSd, tenChannels } from "../../support/disturbed.js";

export const channels = tenChannels("HCP");
const heights_m = [0.2, 0.5, 0.9, 1.4, 2, 3];
/** Zero level of each channel, ppm. */
export const offsets = channels.map((_, c) => (c % 3 === 0 ? 0 : 60 * (c % 2 === 0 ? 1 : -1.5)));

/** Five readings at each height; without noise where `seed` is null. */
export function heightTest(
  earth: { readonly conductivity_S_per_m: number[]; readonly thickness_m: number[] },
  seed: number | null,
): readonly HeightReading[] {
  const random = seededRandom(seed ?? 0);
  return heights_m.flatMap((height_m) =>
    Array.from({ length: 5 }, () => ({
      height_m,
      values: Object.fromEntries(
        channels.map((channel, c) => {
          const { inphase_ppm, quadrature_ppm } = coilResponse(earth, { ...channel, height_m });
          const clean = channel.kind === "inphase" ? inphase_ppm : quadrature_ppm;
          const noise = seed === null ? 0 : noiseSd(channel, clean) * random.normal();
          return [channel.field, clean + offsets[c]! + noise];
        }),
      ),
    })),
  );
}
export const halfSpace = { conductivity_S_per_m: [0.05], thickness_m: [] };
export const twoLayers = { conductivity_S_per_m: [0.02, 0.08], thickness_m: [1.5] };
