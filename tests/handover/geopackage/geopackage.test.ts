import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { surveyOf } from "../../../lib/chain/work.js";
import { geoPackage } from "../../../lib/handover/geopackage/geopackage.js";
import { standardLayers } from "../../../lib/handover/layers/standard-layers.js";
import { type OpenGeoPackage, positionsOf, readGeoPackage } from "../support/read-geopackage.js";
import { hostile, smallFindings, smallWork } from "../support/small-findings.js";

const work = smallWork();
const { centreline } = surveyOf(work).value;
const lastChange_s = Date.UTC(2032, 2, 4, 12, 30) / 1000;
const written = () => geoPackage(standardLayers(smallFindings, work), { centreline, lastChange_s });

let bytes: Uint8Array;
let gpkg: OpenGeoPackage;
beforeAll(async () => {
  bytes = await written();
  gpkg = await readGeoPackage(bytes);
});
afterAll(() => gpkg.close());

const tables = () => gpkg.rows("SELECT * FROM gpkg_contents").map((row) => String(row.table_name));

describe("survey.gpkg", () => {
  it("is a GeoPackage 1.3 by its header, whole, and without a broken reference", () => {
    expect(new TextDecoder().decode(bytes.subarray(0, 15))).toBe("SQLite format 3");
    expect(new TextDecoder().decode(bytes.subarray(68, 72))).toBe("GPKG");
    expect(gpkg.value("PRAGMA user_version")).toBe(10300);
    expect(gpkg.rows("PRAGMA integrity_check")).toEqual([{ integrity_check: "ok" }]);
    expect(gpkg.rows("PRAGMA foreign_key_check")).toEqual([]);
  });

  it("has the contract's layers, each with the features of its findings", () => {
    const counts = tables().map((name) => [name, gpkg.value(`SELECT count(*) FROM "${name}"`)]);
    expect(Object.fromEntries(counts)).toEqual({
      readings: 3,
      set_aside: 1,
      blocks: 2,
      changes: 1,
      seepage_zones: 1,
      section_traces: 2,
      proposed_boreholes: 1,
    });
  });

  it("gives the extent of each layer's geometries, its type and the survey's own system", () => {
    for (const row of gpkg.rows("SELECT * FROM gpkg_contents")) {
      const name = String(row.table_name);
      const all = gpkg.rows(`SELECT geom FROM "${name}"`).flatMap(({ geom }) => positionsOf(geom));
      const [x, y] = [all.map((at) => at[0]), all.map((at) => at[1])];
      expect(row).toMatchObject({
        data_type: "features",
        srs_id: 32631,
        min_x: Math.min(...x),
        max_x: Math.max(...x),
        min_y: Math.min(...y),
        max_y: Math.max(...y),
        last_change: "2032-03-04T12:30:00.000Z",
      });
      const [column] = gpkg.rows(
        `SELECT * FROM gpkg_geometry_columns WHERE table_name = '${name}'`,
      );
      const isPoint = ["readings", "proposed_boreholes"].includes(name);
      expect(column).toMatchObject({
        column_name: "geom",
        geometry_type_name: isPoint ? "POINT" : "LINESTRING",
        srs_id: 32631,
        z: 0,
        m: 0,
      });
    }
  });

  it("follows the centreline round its bend and puts offsets on the right side", () => {
    const [, b2] = gpkg.rows("SELECT * FROM blocks").map(({ geom }) => positionsOf(geom));
    expect(b2).toEqual([
      [500_300, 5_800_000],
      [500_400, 5_800_000],
      [500_400, 5_800_400],
    ]);
    const [along, across] = gpkg.rows("SELECT geom FROM section_traces").map((one) => one.geom);
    expect(positionsOf(along)[0]).toEqual([500_100, 5_800_001]);
    // From landside to waterside, which is left here: northward where the bank runs east.
    expect(positionsOf(across).map(([, y]) => y - 5_800_000)).toEqual([-2, 0, 2]);
    const hole = gpkg.rows("SELECT geom FROM proposed_boreholes").map((one) => one.geom)[0];
    expect(positionsOf(hole)).toEqual([[500_270, 5_799_992]]);
  });

  it("knows the standard's reference systems and the survey's as text", () => {
    const systems = gpkg.rows("SELECT * FROM gpkg_spatial_ref_sys");
    expect(systems.map((row) => row.srs_id)).toEqual([-1, 0, 4326, 32631]);
    expect(systems[3]!.definition).toMatch(
      /^PROJCS\["EPSG:32631",GEOGCS\["WGS 84".*PARAMETER\["central_meridian",3\]/,
    );
  });

  it("names and describes every attribute", () => {
    for (const name of tables()) {
      const columns = gpkg
        .rows(`PRAGMA table_info("${name}")`)
        .map((column) => column.name)
        .filter((column) => column !== "fid" && column !== "geom");
      const described = gpkg.rows(
        `SELECT * FROM gpkg_data_columns WHERE table_name = '${name}' ORDER BY rowid`,
      );
      expect(described.map((row) => row.column_name)).toEqual(columns);
      for (const row of described) {
        expect(String(row.title)).toMatch(/\S/);
        expect(String(row.description)).toMatch(/\S/);
      }
    }
    const registered = gpkg.rows("SELECT * FROM gpkg_extensions");
    expect(registered.map((row) => `${row.extension_name}: ${row.table_name}`)).toEqual([
      "gpkg_schema: gpkg_data_columns",
      "gpkg_schema: gpkg_data_column_constraints",
      "gpkg_metadata: gpkg_metadata",
      "gpkg_metadata: gpkg_metadata_reference",
    ]);
  });

  it("holds a style for each layer as SLD, with a rule for each class", () => {
    const styles = gpkg.rows(
      "SELECT table_name, md_scope, mime_type, metadata FROM gpkg_metadata m " +
        "JOIN gpkg_metadata_reference r ON r.md_file_id = m.id",
    );
    expect(styles.map((row) => row.table_name)).toEqual(tables());
    expect(new Set(styles.map((row) => row.md_scope))).toEqual(new Set(["style"]));
    const blocks = String(styles.find((row) => row.table_name === "blocks")?.metadata);
    expect(blocks.match(/<ogc:Literal>[AB]<\/ogc:Literal>/g)).toHaveLength(2);
  });

  it("keeps a hostile note as text, and awkward channel names as columns", () => {
    expect(gpkg.value("SELECT object FROM set_aside")).toBe(hostile);
    const [first, second, third] = gpkg.rows("SELECT * FROM readings");
    expect(first).toMatchObject({ row: 2, Row_: 1.5, 'odd "name"': 10, fate: "kept", cause: null });
    expect(second).toMatchObject({ row: 3, fate: "set aside", cause: hostile });
    expect(third).toMatchObject({ Row_: null, 'odd "name"': 30 });
  });

  it("is the same, byte for byte, when it is written again", async () => {
    expect(Buffer.compare(await written(), bytes)).toBe(0);
  });
});
