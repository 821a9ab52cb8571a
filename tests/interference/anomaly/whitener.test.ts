import { describe, expect, it } from "vitest";
import { whitener } from "../../../lib/interference/anomaly/whitener.js";
import { expectClose } from "../../support/expect-close.js";

describe("whitener", () => {
  // G = g g' with g = (3, 4): (I + G)⁻¹ e = e − g (g·e) / 26, by Sherman and Morrison 1950.
  const spread = Float64Array.of(9, 12, 12, 16);
  const one = Float64Array.of(1, 1);
  const both = Uint8Array.of(1, 1);

  it("weighs an anomaly against noise and ground together", () => {
    const { whiten, unwhiten, freedom } = whitener(spread, one, both);
    const e = Float64Array.of(2, -1);
    const white = whiten(e);
    // e' (I + G)⁻¹ e = 5 − (g·e)² / 26 with g·e = 2.
    expectClose(white[0]! ** 2 + white[1]! ** 2, 5 - 4 / 26, { relative: 1e-12 });
    expectClose(unwhiten(white)[0]!, 2 - 6 / 26, { relative: 1e-12 });
    expectClose(freedom, 2 - 25 / 26, { relative: 1e-12 });
  });

  it("takes the noise as its unit", () => {
    const sd = Float64Array.of(10, 0.1);
    const scaled = Float64Array.of(900, 12, 12, 0.16);
    const [a, b] = [whitener(spread, one, both), whitener(scaled, sd, both)];
    expectClose(b.freedom, a.freedom, { relative: 1e-12 });
  });

  it("leaves missing channels out", () => {
    const { whiten, freedom } = whitener(spread, one, Uint8Array.of(0, 1));
    const white = whiten(Float64Array.of(99, 1));
    expect(white[0]).toBe(0);
    expectClose(white[1]! ** 2, 1 / 17, { relative: 1e-12 });
    expectClose(freedom, 1 / 17, { relative: 1e-12 });
  });
});
