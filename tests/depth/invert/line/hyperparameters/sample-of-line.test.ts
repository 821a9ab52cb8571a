import { describe, expect, it } from "vitest";
import { sampleOfLine } from "../../../../../lib/depth/invert/line/hyperparameters/sample-of-line.js";
import type { LineData } from "../../../../../lib/depth/invert/line/line-data.js";

const n = 1000;
const line: LineData = {
  n,
  c: 1,
  b: 1,
  m: 3,
  q: 3,
  top_m: Float64Array.of(0, 1, 2),
  spacing_m: 2,
  value_ppm: Float64Array.from({ length: n }, (_, i) => i),
  sd_ppm: new Float64Array(n).fill(1),
  known: Uint8Array.from({ length: n }, (_, i) => (i === 5 ? 0 : 1)),
  gainSd: Float64Array.of(0.01),
  shiftSd_ppm: Float64Array.of(0),
  walk: Int32Array.of(0),
  walkSd: 0,
  walkCorrelation: 0.5,
  ties: [999, 400].map((station) => ({
    station,
    weights: Float64Array.of(1, 0, 0),
    lnConductivity: station,
    sd: 1,
  })),
  forward: () => ({
    layers: 3,
    data: 1,
    evaluate: () => undefined,
  }),
};

describe("sampleOfLine", () => {
  it("is the line itself where it is short", () => {
    expect(sampleOfLine(line, n)).toBe(line);
  });

  it("takes windows of 150 stations from end to end, with their readings and ties", () => {
    const sample = sampleOfLine(line, 460);
    const values = [...sample.value_ppm];
    expect(sample.n).toBe(450);
    expect(values.slice(0, 3)).toEqual([0, 1, 2]);
    expect(values[149]).toBe(149);
    expect(values[150]).toBe(425);
    expect(values.slice(-2)).toEqual([998, 999]);
    expect(sample.known[5]).toBe(0);
    // The tie at 400 stands in no window.
    expect(sample.ties).toEqual([{ ...line.ties[0]!, station: 449 }]);
  });
});
