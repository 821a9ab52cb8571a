import type { Database } from "sql.js";
import type { Centreline } from "../../survey/survey.js";
import type { Layer, LayerField } from "../layers/layer.js";
import { extentOf, geometryBlob } from "./geometry.js";
import { standardSystems, surveySystem } from "./reference-system.js";
import { styleSld } from "./style-sld.js";
import { applicationId, extensionRows, geoPackageVersion, standardTables } from "./tables.js";

export interface GeoPackageOptions {
  /** Its projected coordinates are those of the layers. */
  readonly centreline: Centreline;
  /** What stands as the time of the last change, s since 1970: the survey's own, no clock. */
  readonly lastChange_s: number;
}

/**
 * The layers as a GeoPackage 1.3: a features table each, in the survey's projected coordinates,
 * with columns described (schema extension) and the style as SLD (metadata extension, scope
 * "style", which is the standard's own way; a program that does not read it draws its own colours).
 * The same layers give the same bytes. Source: OGC 12-128r17.
 */
export async function geoPackage(
  layers: readonly Layer[],
  { centreline, lastChange_s }: GeoPackageOptions,
): Promise<Uint8Array> {
  const { default: initSqlJs } = await import("sql.js");
  const { Database: Fresh } = await initSqlJs();
  const db = new Fresh();
  try {
    db.run(`PRAGMA application_id = ${applicationId}; PRAGMA user_version = ${geoPackageVersion};`);
    db.run("BEGIN");
    db.run(standardTables);
    const own = surveySystem(centreline);
    insert(db, "gpkg_spatial_ref_sys", [...standardSystems, own]);
    insert(db, "gpkg_extensions", extensionRows);
    const lastChange = new Date(Math.round(1000 * lastChange_s)).toISOString();
    for (const [i, layer] of layers.entries()) {
      addLayer(db, layer, { srsId: own[1], lastChange, number: i + 1 });
    }
    db.run("COMMIT");
    return db.export();
  } finally {
    db.close();
  }
}

type Value = string | number | null | Uint8Array;

/** Rows into a table, their values in the order of its columns. */
function insert(db: Database, table: string, rows: readonly (readonly Value[])[]): void {
  const [first] = rows;
  if (first === undefined) return;
  const statement = db.prepare(`INSERT INTO ${quoted(table)} VALUES (${first.map(() => "?")})`);
  for (const row of rows) statement.run([...row]);
  statement.free();
}

interface LayerPlace {
  readonly srsId: number;
  readonly lastChange: string;
  readonly number: number;
}

function addLayer(db: Database, layer: Layer, { srsId, lastChange, number }: LayerPlace): void {
  const { name, title, description, geometry, fields, features } = layer;
  const isLine = geometry === "LineString";
  const extent = extentOf(features.flatMap(({ places }) => places));
  const { min_x = null, min_y = null, max_x = null, max_y = null } = extent ?? {};
  const bounds = [min_x, min_y, max_x, max_y];
  const row = [name, "features", title, description, lastChange, ...bounds, srsId];
  insert(db, "gpkg_contents", [row]);
  insert(db, "gpkg_geometry_columns", [[name, "geom", geometry.toUpperCase(), srsId, 0, 0]]);
  insert(
    db,
    "gpkg_data_columns",
    fields.map((one) => [name, one.name, one.name, one.title, one.description, null, null]),
  );
  db.run(tableText(layer));
  const rows = features.map(({ places, values }, i) => {
    return [i + 1, geometryBlob(places, { isLine, srsId }), ...values];
  });
  insert(db, name, rows);
  const sld = styleSld(layer);
  insert(db, "gpkg_metadata", [[number, "style", sldStandard, "application/vnd.ogc.sld+xml", sld]]);
  insert(db, "gpkg_metadata_reference", [["table", name, null, null, lastChange, number, null]]);
}

const sldStandard = "http://www.opengis.net/sld";

const types: Readonly<Record<LayerField["type"], string>> = {
  text: "TEXT",
  integer: "INTEGER",
  real: "DOUBLE",
  time: "DATETIME",
};

function tableText({ name, geometry, fields }: Layer): string {
  const columns = [
    "fid INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL",
    `geom ${geometry.toUpperCase()}`,
    ...fields.map((one) => `${quoted(one.name)} ${types[one.type]}`),
  ];
  return `CREATE TABLE ${quoted(name)} (${columns.join(", ")})`;
}

function quoted(name: string): string {
  return `"${name.replaceAll('"', '""')}"`;
}
