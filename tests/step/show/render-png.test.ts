import { describe, expect, it } from "vitest";
import { renderPng } from "../../../lib/step/show/render-png.js";

const svg =
  '<svg xmlns="http://www.w3.org/2000/svg" width="30" height="20"><rect width="30" height="20"/></svg>';

describe("renderPng", () => {
  it("gives a PNG of twice the drawing's size", () => {
    const bytes = Buffer.from(renderPng(svg), "base64");
    // PNG (Third Edition), 5.2 and 11.2.2: the signature, then width and height in the header chunk.
    expect([...bytes.subarray(0, 8)]).toEqual([137, 80, 78, 71, 13, 10, 26, 10]);
    expect([bytes.readUInt32BE(16), bytes.readUInt32BE(20)]).toEqual([60, 40]);
  });

  it("refuses what is no drawing", () => {
    expect(() => renderPng("a bank")).toThrow();
  });
});
