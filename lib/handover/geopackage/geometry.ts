import type { Grid } from "../../survey/bank/projection.js";

/** Least and greatest easting and northing, m. */
export interface Extent {
  readonly min_x: number;
  readonly min_y: number;
  readonly max_x: number;
  readonly max_y: number;
}

/** The extent of places; null of none. */
export function extentOf(places: Iterable<Grid>): Extent | null {
  let [min_x, min_y, max_x, max_y] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { easting_m, northing_m } of places) {
    min_x = Math.min(min_x, easting_m);
    max_x = Math.max(max_x, easting_m);
    min_y = Math.min(min_y, northing_m);
    max_y = Math.max(max_y, northing_m);
  }
  return min_x <= max_x ? { min_x, min_y, max_x, max_y } : null;
}

const littleEndian = 1;
/** Bits of the header's flags. */
const envelopeXy = 1 << 1;

/**
 * A point or a line as the standard stores it: a header ("GP", version, flags, reference system,
 * for a line its envelope), then well-known binary. Null of no places. Source: OGC 12-128r17,
 * 2.1.3.
 */
export function geometryBlob(
  places: readonly Grid[],
  { isLine, srsId }: { readonly isLine: boolean; readonly srsId: number },
): Uint8Array | null {
  const extent = extentOf(places);
  if (extent === null) return null;
  const { min_x, max_x, min_y, max_y } = extent;
  const envelope = isLine ? [min_x, max_x, min_y, max_y] : [];
  const coordinates = places.flatMap(({ easting_m, northing_m }) => [easting_m, northing_m]);
  const header_bytes = 8 + 8 * envelope.length;
  const wkb_bytes = 5 + (isLine ? 4 : 0) + 8 * coordinates.length;
  const view = new DataView(new ArrayBuffer(header_bytes + wkb_bytes));
  view.setUint16(0, 0x4750);
  view.setUint8(2, 0);
  view.setUint8(3, littleEndian | (isLine ? envelopeXy : 0));
  view.setInt32(4, srsId, true);
  setDoubles(view, 8, envelope);
  view.setUint8(header_bytes, littleEndian);
  view.setUint32(header_bytes + 1, isLine ? 2 : 1, true);
  if (isLine) view.setUint32(header_bytes + 5, places.length, true);
  setDoubles(view, header_bytes + (isLine ? 9 : 5), coordinates);
  return new Uint8Array(view.buffer);
}

function setDoubles(view: DataView, at: number, values: readonly number[]): void {
  for (const [i, value] of values.entries()) view.setFloat64(at + 8 * i, value, true);
}
