import { describe, expect, it } from "vitest";
import { correctDrift } from "../../lib/drift/correct-drift.js";
import { renderSvg } from "../../lib/step/show/render-svg.js";
import { drifting } from "../support/drifting.js";

describe("the figure of correctDrift", () => {
  const truth = [
    { perHour: 80, step: 30 },
    { perHour: 0, step: 0 },
  ];
  const result = correctDrift(drifting({ seed: 3, truth }));

  it("has the finding as its title and compiles without a warning", async () => {
    const [figure] = result.figures;
    expect(figure!.title).toMatch(/^Drift up to \d+ ppm\/h \(quadrature, 1 kHz, HCP, 1.8 m\)/);
    expect(figure!.title).toContain("one step at 09:15 UTC");
    expect(await renderSvg(figure!.spec)).toContain("<svg");
  });
});
