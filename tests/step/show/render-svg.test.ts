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

  it("asks nobody for data, unless it is told whom", async () => {
    const encoding = { x: { field: "a", type: "quantitative" } };
    const elsewhere = { ...spec, data: { url: "levels.json" }, encoding };
    await expect(renderSvg(elsewhere)).rejects.toThrow(
      "figure: data must be given as values, got the address levels.json",
    );
    const load = async (address: string) => `[{ "a": ${address.length} }, { "a": 3 }]`;
    expect(await renderSvg(elsewhere, { load })).toMatch(/^<svg /);
    await expect(
      renderSvg(elsewhere, { load: () => Promise.reject(new Error("no such gauge")) }),
    ).rejects.toThrow("no such gauge");
  });
});
