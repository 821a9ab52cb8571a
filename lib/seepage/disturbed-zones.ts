import { textRuns } from "../depth/data/text-runs.js";
import type { DepthSlices } from "../depth/depth-slices.js";
import { illFitted } from "../depth/ill-fitted.js";
import { valueAt } from "../numerics/arrays.js";
import { listText } from "../step/list-text.js";
import type { SeepageZone } from "./seepage.js";

/** So near to a stretch that was set aside, what disturbs it may reach into readings, m. */
const BESIDE_M = 10;
/** Share of a zone's stations from which on it rests on such readings. */
const SHARE = 0.5;

type Zone = Pick<SeepageZone, "rank" | "from_m" | "to_m">;

/**
 * The zones that rest mostly on stations beside a stretch that was set aside, or where no layered
 * ground explains the readings.
 */
export function disturbedZones<One extends Zone>(
  zones: readonly One[],
  slices: DepthSlices,
): readonly One[] {
  const { chainage_m, gap } = slices;
  const aside = textRuns(gap)
    .filter(({ text }) => text === "set aside")
    .map(({ first, last }) => {
      const [from_m, to_m] = [valueAt(chainage_m, first), valueAt(chainage_m, last)];
      return { from_m: from_m - BESIDE_M, to_m: to_m + BESIDE_M };
    });
  const disturbed = [...aside, ...illFitted(slices)];
  const isDisturbed = (x: number) => disturbed.some(({ from_m, to_m }) => x > from_m && x < to_m);
  return zones.filter(({ from_m, to_m }) => {
    const stations = chainage_m.filter((x, i) => x >= from_m && x <= to_m && gap[i] === "");
    return stations.length > 0 && stations.filter(isDisturbed).length >= SHARE * stations.length;
  });
}

/** Which zones rest on disturbed readings, a sentence; null where none does. */
export function disturbedZonesText(zones: readonly Zone[], slices: DepthSlices): string | null {
  const resting = disturbedZones(zones, slices);
  if (resting.length === 0) return null;
  const places = resting.map(
    ({ rank, from_m, to_m }) => `${rank} (${from_m.toFixed(0)}–${to_m.toFixed(0)} m)`,
  );
  const [noun, verb] = resting.length === 1 ? ["Zone", "rests"] : ["Zones", "rest"];
  return (
    `${noun} ${listText(places)} ${verb} mostly on readings within ${BESIDE_M} m of a stretch that ` +
    "was set aside, or that no layered ground explains: what disturbs them may look like pervious " +
    "ground. Look at that stretch before the zone."
  );
}
