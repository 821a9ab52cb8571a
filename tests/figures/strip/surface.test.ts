import { describe, expect, it } from "vitest";
import { type Cell, stripSpec } from "../../../lib/figures/strip/strip.js";
import { expectClose } from "../../support/expect-close.js";
import { expectDraws, expectValidSpec } from "../support/check-spec.js";

type Row = Readonly<Record<string, number>>;

/** A section over a crest that sinks by 2 m in 1 km, and what the figure draws of it. */
function sinking(cells = 100, top = (x: number) => 6 - x / 500) {
  const length = 1000 / cells;
  const made = Array.from({ length: cells }, (_, i): Cell[] => {
    const [from_m, to_m] = [i * length, (i + 1) * length];
    const surface_m = top((from_m + to_m) / 2);
    const place = { from_m, to_m, surface_m };
    return [
      { ...place, top_m: 0, base_m: 1, value: 20 },
      { ...place, top_m: 1, base_m: 4, value: 80, confidence: 0.2 },
    ];
  }).flat();
  const panel = {
    kind: "cells",
    label: "Under the crest",
    unit: "ohm-m",
    height_px: 200,
    cells: made,
    reliableTo_m: 1,
    elevationLabel: "Elevation (m above datum)",
    fading: ["known", "known in part", "not resolved"],
  } as const;
  return stripSpec({ title: "A crest that sinks", panels: [panel] });
}

const view = (spec: unknown) =>
  (spec as { vconcat: { data: { values: Row[] }; layer: Layer[] }[] }).vconcat[0]!;

interface Layer {
  readonly data?: { readonly values: readonly Row[] };
  readonly mark: { readonly type: string };
  readonly encoding: { readonly y?: { readonly scale?: { readonly domain: readonly number[] } } };
}

describe("cells that hang from a surface", () => {
  it("stand at the surface's elevation less their depth, true to half a pixel", () => {
    const spec = sinking();
    const [from, to] = view(spec).layer.find(({ mark }) => mark.type === "rect")!.encoding.y!.scale!
      .domain as [number, number];
    expect([from, to]).toEqual([4.01 - 4, 5.99]);
    const perPx = (to - from) / 200;
    for (const row of view(spec).data.values) {
      const deep = row.v === 80 ? 1 : 0;
      const middle = 6 - (row.a! + row.b!) / 2 / 500;
      // Cells of one colour are joined while their surface moves by no more than half a pixel: off by
      // that, the rounding to as much, and three decimals.
      expectClose(row.u!, middle - deep, { absolute: perPx + 5e-4 });
    }
  });

  it("are joined where the surface is level and parted where it is not", () => {
    expect(view(sinking(100, () => 6)).data.values).toHaveLength(2);
    expect(view(sinking()).data.values.length).toBeGreaterThan(50);
  });

  it("have the surface and the reliable depth drawn as lines along them", () => {
    const lines = view(sinking(100, () => 6)).layer.filter(({ mark }) => mark.type === "line");
    const ends = lines.map(({ data }) => data!.values.map(({ a, d }) => [a, d]));
    expect(ends).toEqual([
      [
        [0, 6],
        [1000, 6],
      ],
      [
        [0, 5],
        [1000, 5],
      ],
    ]);
  });

  it("have the text of the reliable depth over the line, also where the surface sinks", () => {
    const texts = view(sinking()).layer.filter(({ mark }) => mark.type === "text");
    const told = texts.flatMap(({ data }) => data?.values ?? []).find(({ d }) => d !== undefined);
    // 150 of 780 px before the end at 1,000 m: 808 m, where the surface is at 4.38 m.
    expectClose(told!.d!, 4.38 - 1, { absolute: 0.03 });
  });

  it("hang from depth where one of them has no elevation", async () => {
    const cell = { from_m: 0, to_m: 5, top_m: 0, base_m: 1, value: 20 };
    const cells = [
      { ...cell, surface_m: 6 },
      { ...cell, from_m: 5, to_m: 10 },
    ];
    const panel = { kind: "cells", label: "D", unit: "ohm-m", cells, reliableTo_m: 1 } as const;
    const spec = stripSpec({ title: "Depth", panels: [panel] });
    expect(view(spec).data.values.map(({ u, l }) => [u, Math.round(l!)])).toEqual([[0, 1]]);
    expect(await expectDraws(spec)).toContain(">Depth (m)</text>");
  });

  it("tell in the legend what full and pale colours mean", async () => {
    const spec = sinking();
    expectValidSpec(spec);
    const svg = await expectDraws(spec);
    for (const text of ["Strength of the colour", "known", "known in part", "not resolved"]) {
      expect(svg).toContain(`>${text}</text>`);
    }
    expect(svg).toContain("reliable to 1 m depth");
    expect(svg).toContain("Elevation (m above datum)");
  });
});
