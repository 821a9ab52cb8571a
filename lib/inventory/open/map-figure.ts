import { planMapSpec } from "../../figures/plan/plan-map.js";
import { bandColours } from "../../figures/theme.js";
import type { Figure } from "../../step/figure.js";
import { type MapProjection, mapProjection, utmZoneAt } from "../../survey/bank/projection.js";
import type { Inventory, InventoryZone } from "./inventory.js";
import type { QueriedRow } from "./query-tables.js";
import { gridOf, placesOf } from "./well-known-text.js";

/** Zones that the map names. */
const SHOWN = 20;

/** The reaches on one plan, with the strongest zones; none where no place is known. */
export function inventoryMap({ reaches, ranking }: Inventory): readonly Figure[] {
  const lines = reaches.map(({ geometry }) => geometry);
  const projection = projectionOf(lines);
  if (projection === null) return [];
  const zones = ranking.slice(0, SHOWN);
  const title =
    zones.length === 0
      ? "No seepage zone in any reach"
      : `The ${zones.length === 1 ? "zone" : `${zones.length} zones`} with the strongest evidence ` +
        `${zones.length === 1 ? "lies" : "lie"} in ${countOf(zones)}`;
  const spec = planMapSpec({
    title,
    subtitle: "All reaches that are interpreted; zones by band of their probability",
    epsg: projection.epsg,
    lines: [{ name: "reaches", ...joined(lines, projection) }],
    points: zones.flatMap((zone) => {
      const path = gridOf(zone.geometry, projection);
      const at = path[Math.floor(path.length / 2)];
      return at === undefined ? [] : [{ ...at, name: zoneName(zone), kind: zone.band }];
    }),
    colours: bandColours,
  });
  const caption =
    "Plan, grid north up, the same scale east and north. Lines are reaches; marks are the zones at " +
    `the head of the ranking (${zones.length} of ${ranking.length}), each named by its rank.`;
  return [{ id: "inventory-map", title, caption, spec }];
}

/** Rows of a query that have a geometry, coloured by one of their columns. */
export function queriedMap(rows: readonly QueriedRow[], by: string | null): readonly Figure[] {
  const lines = rows.map(({ geometry }) => (typeof geometry === "string" ? geometry : null));
  const projection = projectionOf(lines);
  if (projection === null) return [];
  const groupOf = (row: QueriedRow) => (by === null ? "rows" : String(row[by] ?? "not known"));
  const drawn = rows.map((row, i) => ({ row, path: gridOf(lines[i] ?? null, projection) }));
  const title = by === null ? `${rows.length} rows` : `${rows.length} rows by ${by}`;
  const spec = planMapSpec({
    title,
    epsg: projection.epsg,
    lines: [],
    stretches: drawn
      .filter(({ path }) => path.length > 1)
      .map(({ row, path }) => ({ ...columnsOf(path), text: rowText(row), group: groupOf(row) })),
    points: drawn
      .filter(({ path }) => path.length === 1)
      .flatMap(({ row, path }) =>
        path.map((at) => ({ ...at, name: rowText(row), kind: groupOf(row) })),
      ),
    ...(by === null ? {} : { legend: by }),
  });
  const caption = "Plan, grid north up, the same scale east and north; one line or mark a row.";
  return [{ id: "inventory-query-map", title, caption, spec }];
}

export const zoneName = ({ rank, reach, from_m, to_m }: InventoryZone) =>
  `${rank} · ${reach} ${from_m.toFixed(0)}–${to_m.toFixed(0)} m`;

function countOf(zones: readonly InventoryZone[]): string {
  const reaches = new Set(zones.map(({ reach }) => reach)).size;
  return reaches === 1 ? "one reach" : `${reaches} reaches`;
}

/** The zone of the middle of all places. */
function projectionOf(texts: readonly (string | null)[]): MapProjection | null {
  const places = texts.flatMap(placesOf);
  const [first] = places;
  if (first === undefined) return null;
  const mean = (axis: 0 | 1) => places.reduce((sum, at) => sum + at[axis], 0) / places.length;
  return mapProjection(utmZoneAt({ longitude: mean(0), latitude: mean(1) }));
}

/** One line with a break after each reach. */
function joined(texts: readonly (string | null)[], projection: MapProjection) {
  const broken = { easting_m: Number.NaN, northing_m: Number.NaN };
  return columnsOf(texts.flatMap((text) => [...gridOf(text, projection), broken]));
}

function columnsOf(path: readonly { readonly easting_m: number; readonly northing_m: number }[]) {
  return {
    easting_m: path.map(({ easting_m }) => easting_m),
    northing_m: path.map(({ northing_m }) => northing_m),
  };
}

function rowText(row: QueriedRow): string {
  return Object.entries(row)
    .filter(([name]) => name !== "geometry")
    .slice(0, 4)
    .map(
      ([name, value]) =>
        `${name} ${typeof value === "number" ? Number(value.toPrecision(4)) : value}`,
    )
    .join(", ");
}
