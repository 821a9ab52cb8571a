import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../lib/numerics/random.js";
import { cohenKappa } from "../../../lib/numerics/statistics/cohen-kappa.js";
import { expectClose } from "../../support/expect-close.js";

describe("cohenKappa", () => {
  it("is (0.7 − 0.5) / (1 − 0.5) for a table worked by hand", () => {
    const { kappa, agreement } = cohenKappa([
      [20, 5],
      [10, 15],
    ]);
    expectClose(kappa, 0.4, { absolute: 1e-12 });
    expectClose(agreement, 0.7, { absolute: 1e-12 });
  });

  it("is 1 with no error for full agreement, 0 for independence, NaN for one class", () => {
    const full = cohenKappa([
      [7, 0],
      [0, 9],
    ]);
    expect(full.kappa).toBe(1);
    expect(full.standardError).toBe(0);
    const none = cohenKappa([
      [6, 12],
      [3, 6],
    ]);
    expectClose(none.kappa, 0, { absolute: 1e-12 });
    expect(cohenKappa([[5]]).kappa).toBeNaN();
    expect(cohenKappa([]).kappa).toBeNaN();
  });

  // The spread of kappa over 4,000 tables of 300 items drawn from one table; its own error is
  // 1 / sqrt(8000) = 1.1 %, and the formula is the large-sample one: 5 %.
  it("has the standard error that drawing items again and again has", () => {
    const table = [
      [0.3, 0.08, 0.02],
      [0.05, 0.25, 0.06],
      [0.02, 0.02, 0.2],
    ];
    const flat = table.flat();
    const upTo = flat.map((_, i) => flat.slice(0, i + 1).reduce((sum, p) => sum + p, 0));
    const random = seededRandom(8);
    const kappas = Array.from({ length: 4000 }, () => {
      const counts = table.map((row) => row.map(() => 0));
      for (let i = 0; i < 300; i++) {
        const drawn = random.uniform();
        const cell = Math.max(
          0,
          upTo.findIndex((p) => drawn < p),
        );
        const row = counts[Math.floor(cell / 3)]!;
        row[cell % 3] = row[cell % 3]! + 1;
      }
      return cohenKappa(counts).kappa;
    });
    const mean = kappas.reduce((sum, value) => sum + value, 0) / 4000;
    const spread = Math.sqrt(kappas.reduce((sum, v) => sum + (v - mean) ** 2, 0) / 3999);
    const exact = cohenKappa(table.map((row) => row.map((p) => 300 * p)));
    expectClose(exact.standardError, spread, { relative: 0.05 });
  });

  it("refuses a table that is not square, and a count under 0", () => {
    expect(() => cohenKappa([[1, 2]])).toThrow("counts[0] must be a row of 1 counts");
    expect(() =>
      cohenKappa([
        [1, -2],
        [0, 1],
      ]),
    ).toThrow("counts[0] must be a row of 2 counts");
  });
});
