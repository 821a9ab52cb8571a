import { describe, expect, it } from "vitest";
import { renderSvg } from "../../../lib/step/show/render-svg.js";

describe("renderSvg", () => {
  const spec = {
    $schema: "https://vega.github.io/schema/vega-lite/v5.json",
    data: { values: [{ a: 1 }] },
    mark: "point",
    encoding: { x: { field: "a", type: "quantitative", bin: "nonsense" }, q: { field: "a" } },
  };

  it("fails on a warning, and draws all the same where told to ignore it", async () => {
    await expect(renderSvg(spec)).rejects.toThrow(/^figure: /);
    expect(await renderSvg(spec, { warnings: "ignore" })).toMatch(/^<svg /);
  });
});
