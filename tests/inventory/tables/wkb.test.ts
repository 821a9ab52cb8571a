import { describe, expect, it } from "vitest";
import { lineStringWkb, pointWkb } from "../../../lib/inventory/tables/wkb.js";

const hex = (bytes: Uint8Array | null) => Buffer.from(bytes!).toString("hex");

describe("well-known binary", () => {
  // python3 -c "import struct; print((struct.pack('<BI', 1, 1) + struct.pack('<2d', 3.5, 54)).hex())"
  it("holds a point as byte order, kind and two doubles", () => {
    expect(hex(pointWkb([3.5, 54]))).toBe("01010000000000000000000c400000000000004b40");
  });

  // the same with '<BII', 1, 2, 2 and four doubles
  it("holds a line with the number of its points", () => {
    const line = lineStringWkb([
      [0, 1],
      [2, -1],
    ]);
    expect(hex(line)).toBe(
      "0102000000020000000000000000000000000000000000f03f0000000000000040000000000000f0bf",
    );
  });

  it("is missing for no place and for a place that is not known", () => {
    expect(lineStringWkb([])).toBeNull();
    expect(pointWkb([Number.NaN, 54])).toBeNull();
  });
});
