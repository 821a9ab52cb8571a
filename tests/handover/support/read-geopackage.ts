// A GeoPackage read back without the code that wrote it.
import initSqlJs from "sql.js";

export type Row = Readonly<Record<string, unknown>>;

export interface OpenGeoPackage {
  readonly rows: (sql: string) => readonly Row[];
  readonly value: (sql: string) => unknown;
  readonly close: () => void;
}

export async function readGeoPackage(bytes: Uint8Array): Promise<OpenGeoPackage> {
  const { Database } = await initSqlJs();
  const db = new Database(bytes);
  const rows = (sql: string) =>
    db
      .exec(sql)
      .flatMap(({ columns, values }) =>
        values.map((row) => Object.fromEntries(columns.map((name, i) => [name, row[i]]))),
      );
  return {
    rows,
    value: (sql) => Object.values(rows(sql)[0] ?? {})[0],
    close: () => db.close(),
  };
}

/** The positions of a geometry, by the standard's own layout (2.1.3). */
export function positionsOf(blob: unknown): readonly (readonly [number, number])[] {
  if (blob === null) return [];
  const bytes = blob as Uint8Array;
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (String.fromCharCode(...bytes.subarray(0, 2)) !== "GP") throw new Error("no GeoPackage blob");
  const envelope_bytes = [0, 32, 48, 48, 64][(view.getUint8(3) >> 1) & 7] ?? Number.NaN;
  const wkb = 8 + envelope_bytes;
  const little = view.getUint8(wkb) === 1;
  const type = view.getUint32(wkb + 1, little);
  const count = type === 1 ? 1 : view.getUint32(wkb + 5, little);
  const start = wkb + (type === 1 ? 5 : 9);
  return Array.from({ length: count }, (_, i) => [
    view.getFloat64(start + 16 * i, little),
    view.getFloat64(start + 16 * i + 8, little),
  ]);
}
