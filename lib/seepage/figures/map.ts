import { planMapSpec } from "../../figures/plan/plan-map.js";
import { bandColours } from "../../figures/theme.js";
import type { Figure } from "../../step/figure.js";
import { positionAt } from "../../survey/bank/position.js";
import { stretchPath } from "../../survey/bank/stretch-path.js";
import type { Seepage } from "../seepage.js";
import { zoneName } from "../words.js";

/** The zones on the plan, by band. */
export function zonesMap({ zones, centreline }: Seepage): Figure {
  const high = zones.filter(({ band }) => band === "high").length;
  const bands = high > 0 ? `${high} of them high` : "none of them high";
  const title =
    zones.length === 1
      ? `One zone, of band ${zones[0]?.band}, along the bank`
      : `${zones.length} zones along the bank, ${bands}`;
  const spec = planMapSpec({
    title,
    epsg: centreline.epsg,
    lines: [
      { name: "centreline", easting_m: centreline.easting_m, northing_m: centreline.northing_m },
    ],
    stretches: zones.map((zone) => ({
      ...stretchPath(centreline, zone),
      text: zoneName(zone),
      group: zone.band,
    })),
    ticks: zones.map((zone) => ({
      ...positionAt(centreline, (zone.from_m + zone.to_m) / 2),
      text: zoneName(zone),
    })),
    legend: "Band",
    colours: bandColours,
  });
  return {
    id: "seepage-map",
    title,
    caption:
      "Plan, grid north up, the same scale east and north. Zones by rank with their chainages; the " +
      "darker the stronger the evidence.",
    spec,
  };
}
