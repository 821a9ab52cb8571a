import { describe, expect, it } from "vitest";
import { residualTables } from "../../../../lib/depth/views/residuals/residual-tables.js";
import { makeFittedSlices } from "../../../support/fitted-slices.js";

describe("the tables of residuals", () => {
  it("list channels with bias and outliers, and stretches with the channels to blame", () => {
    const residual = (c: number, x: number) => (c === 1 && x >= 200 && x < 260 ? -4 : 0);
    const [channels, stretches] = residualTables(makeFittedSlices({ residual }));
    const row = channels!.rows.find(({ name }) => name === "HCP quadrature, 60 kHz");
    // 30 of 400 stations at −4.
    expect(row).toMatchObject({ mean: -0.3, beyond: 7.5 });
    expect(stretches!.rows).toEqual([
      { from_m: 199, to_m: 259, misfit: 2, channels: "HCP quadrature, 60 kHz" },
    ]);
  });

  it("tell the noise found, and gain and zero only where one was found", () => {
    const value = makeFittedSlices();
    const fields = (given: typeof value) =>
      residualTables(given)[0]!.columns.map(({ field }) => field);
    expect(fields(value)).toContain("scale");
    expect(fields(value)).not.toContain("gain");
    const channels = value.channels!.map((one) => ({ ...one, gain: 1.02 }));
    expect(fields({ ...value, channels })).toEqual(
      expect.arrayContaining(["scale", "gain", "shift"]),
    );
  });

  it("calls no stretch of pure noise not explained, however few the channels", () => {
    const value = makeFittedSlices({ stations: 1200 });
    const one = { ...value, channels: value.channels!.slice(0, 1) };
    // 240 bins of five: beyond chance is a sum of squares over 19.2, which has a probability of
    // 0.0018.
    expect(residualTables(one)[1]?.rows.length ?? 0).toBeLessThanOrEqual(2);
    expect(residualTables(value)).toHaveLength(1);
  });
});
