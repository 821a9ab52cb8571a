import { describe, expect, it } from "vitest";
import { coilResponse } from "../../../lib/earth/coil-response.js";
import { likeLayered, mediansAbout } from "../../../lib/interference/anomaly/like-layered.js";
import { expectClose } from "../../support/expect-close.js";

const TOPS = [0, 0.5, 1, 2, 4];
const FREQUENCIES = [1500, 10_000, 60_000];

/** Quadrature and in-phase of HCP coils at 1.8 m over layers with these tops, ppm. */
function response(conductivity_S_per_m: readonly number[]): Float64Array {
  const thickness_m = TOPS.slice(1).map((top, k) => top - TOPS[k]!);
  return Float64Array.from(
    FREQUENCIES.flatMap((frequency_Hz) => {
      const coils = { orientation: "HCP" as const, separation_m: 1.8, frequency_Hz, height_m: 0.9 };
      const { quadrature_ppm, inphase_ppm } = coilResponse(
        { conductivity_S_per_m, thickness_m },
        coils,
      );
      return [quadrature_ppm, inphase_ppm];
    }),
  );
}

const perPpm = new Float64Array(6).fill(1);
const found = (truth: readonly number[]) =>
  likeLayered({ target: response(truth), perPpm, layers: TOPS.length, response });

describe("the simple earth that reads like the line", () => {
  it("is uniform where the ground is", () => {
    const column = found(TOPS.map(() => 0.05));
    for (const sigma of column) expectClose(sigma, 0.05, { relative: 0.13 });
  });

  it("has the parts of ground that differs much by depth", () => {
    const column = found([0.02, 0.02, 0.02, 0.2, 0.2]);
    expect(Math.max(...column) / Math.min(...column)).toBeGreaterThan(5);
    expect(column[0]).toBeLessThan(column.at(-1)!);
    const [read, truth] = [response(column), response([0.02, 0.02, 0.02, 0.2, 0.2])];
    read.forEach((value, c) => {
      expectClose(value, truth[c]!, { absolute: 0.15 * Math.abs(truth[c]!) + 50 });
    });
  });
});

describe("medians about a level", () => {
  it("are of the readings that rank there, missing ones left out", () => {
    const by = Float64Array.from({ length: 101 }, (_, i) => (i === 3 ? Number.NaN : i));
    const twice = by.map((value) => 2 * value);
    const [one, other] = mediansAbout([by, twice], by, 0.5);
    expectClose(one!, 50.5, { absolute: 1 });
    expectClose(other!, 2 * one!, { absolute: 1e-9 });
  });
});
