import { describe, expect, it } from "vitest";
import { placeLabels } from "../../../lib/figures/labels.js";
import { planMapSpec } from "../../../lib/figures/plan/plan-map.js";
import { expectClose } from "../../support/expect-close.js";
import { expectDraws } from "../support/check-spec.js";
import { samplePlan } from "../support/samples.js";

interface Axes {
  readonly width: number;
  readonly height: number;
  readonly layer: { encoding: Record<string, { scale: { domain: [number, number] } }> }[];
}

describe("planMapSpec", () => {
  it.each([
    ["long", 2400, 100],
    ["high", 50, 900],
    ["a point", 0, 0],
  ])("draws a metre east as long as a metre north (%s)", (_, east, north) => {
    const line = { name: "line", easting_m: [500_000, 500_000 + east], northing_m: [0, north] };
    const spec = planMapSpec({ title: "Plan", lines: [line] }) as unknown as Axes;
    const { x, y } = spec.layer[0]!.encoding;
    const metresPer_px = [
      (x!.scale.domain[1] - x!.scale.domain[0]) / spec.width,
      (y!.scale.domain[1] - y!.scale.domain[0]) / spec.height,
    ];
    // Closed form: equal by construction; only rounding of doubles.
    expectClose(metresPer_px[0]!, metresPer_px[1]!, { relative: 1e-9 });
  });

  it("states its origin, its coordinates and north", async () => {
    const svg = await expectDraws(planMapSpec(samplePlan()));
    expect(svg).toContain("East of 512,300 m (m, EPSG:32631)");
    expect(svg).toContain(">N</text>");
  });
});

describe("placeLabels", () => {
  const space = { width_px: 300, height_px: 200, size_px: 10, distance_px: 6, obstacles: [] };

  it("finds places that do not meet", () => {
    const wishes = [0, 1, 2].map((i) => ({ x: 150 + i, y: 100, text: `BH${i}` }));
    const placed = placeLabels(wishes, space);
    expect(placed).toHaveLength(3);
    const places = placed.map(({ left, middle }) => `${Math.round(left)} ${Math.round(middle)}`);
    expect(new Set(places).size).toBe(3);
  });

  it("leaves a label out rather than write over another", () => {
    const wishes = Array.from({ length: 60 }, (_, i) => ({ x: 150, y: 100, text: `name ${i}` }));
    expect(placeLabels(wishes, space).length).toBeLessThan(60);
  });
});
