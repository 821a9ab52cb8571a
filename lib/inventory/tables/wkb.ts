import type { LonLatPair } from "../record/reach-record.js";

const LITTLE_ENDIAN = 1;
const POINT = 1;
const LINE_STRING = 2;

/** A point as well-known binary. Source: OGC 06-103r4, 8.2. */
export function pointWkb([longitude, latitude]: LonLatPair): Uint8Array | null {
  return wkb(POINT, [], [longitude, latitude]);
}

/** A line as well-known binary; null of no places. Source: OGC 06-103r4, 8.2. */
export function lineStringWkb(path: readonly LonLatPair[]): Uint8Array | null {
  return path.length === 0 ? null : wkb(LINE_STRING, [path.length], path.flat());
}

function wkb(
  kind: number,
  counts: readonly number[],
  coordinates: readonly number[],
): Uint8Array | null {
  if (!coordinates.every(Number.isFinite)) return null;
  const view = new DataView(new ArrayBuffer(5 + 4 * counts.length + 8 * coordinates.length));
  view.setUint8(0, LITTLE_ENDIAN);
  view.setUint32(1, kind, true);
  for (const [i, count] of counts.entries()) view.setUint32(5 + 4 * i, count, true);
  const start = 5 + 4 * counts.length;
  for (const [i, value] of coordinates.entries()) view.setFloat64(start + 8 * i, value, true);
  return new Uint8Array(view.buffer);
}
