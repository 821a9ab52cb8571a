import { describe, expect, it } from "vitest";
import { stripSpec } from "../../../lib/figures/strip/strip.js";
import { expectDraws } from "../support/check-spec.js";

type Row = { readonly [field: string]: unknown };

function rows(spec: unknown, panel = 0): readonly Row[] {
  const views = (spec as { vconcat: { data: { values: Row[] } }[] }).vconcat;
  return views[panel]!.data.values;
}

const x = [0, 1, 2, 3, 4, 5];

describe("stripSpec", () => {
  it("breaks a curve at a missing value instead of joining over it", async () => {
    const y = [1, 2, Number.NaN, Number.NaN, 5, 6];
    const spec = stripSpec({
      title: "A gap",
      panels: [{ kind: "lines", label: "ppm", scale: "linear", series: [{ name: "a", x, y }] }],
    });
    expect(rows(spec).map(({ m, v, r }) => [m, v, r])).toEqual([
      [0, 1, 0],
      [1, 2, 0],
      [4, 5, 1],
      [5, 6, 1],
    ]);
    const lines = (await expectDraws(spec)).match(
      /<path aria-label="[^"]*" role[^>]*line mark[^>]*>/g,
    );
    expect(lines).toHaveLength(2);
  });

  it("writes the cause of a set-aside stretch above it and its whole text in the tooltip", async () => {
    const spec = stripSpec({
      title: "One culvert",
      panels: [{ kind: "lines", label: "ppm", scale: "linear", series: [{ name: "a", x, y: x }] }],
      setAside: [{ from_m: 2, to_m: 3, text: "culvert", detail: "noted culvert <12>" }],
    });
    expect((spec.datasets as { setAside: Row[] }).setAside).toEqual([
      { a: 2, b: 3, t: "noted culvert <12>, 2–3 m" },
    ]);
    expect(await expectDraws(spec)).toContain(">culvert</text>");
  });

  it("widens a point object to two pixels so that it can be seen", () => {
    const spec = stripSpec({
      title: "A pipe",
      width_px: 100,
      domain_m: [0, 1000],
      panels: [],
      setAside: [{ from_m: 500, to_m: 500, text: "pipe" }],
    });
    expect((spec.datasets as { setAside: Row[] }).setAside[0]).toMatchObject({ a: 490, b: 510 });
  });

  it("leaves values out of a log panel that a log scale cannot show", () => {
    const y = [1, 0, -1, 10, 100, 1000];
    const spec = stripSpec({
      title: "Log",
      panels: [{ kind: "lines", label: "ohm-m", scale: "log", series: [{ name: "a", x, y }] }],
    });
    expect(rows(spec).map(({ v }) => v)).toEqual([1, 10, 100, 1000]);
  });

  it("draws a surer cell nearer to the full colour", () => {
    const cell = { from_m: 0, to_m: 5, top_m: 0, base_m: 1, value: 10 };
    const cells = [
      { ...cell, confidence: 1 },
      { ...cell, top_m: 1, base_m: 2, confidence: 0.4 },
      { ...cell, top_m: 2, base_m: 3, confidence: 0 },
    ];
    const panel = {
      kind: "cells",
      label: "Depth",
      unit: "ohm-m",
      cells,
      domain: [10, 100],
    } as const;
    const colours = rows(stripSpec({ title: "Fading", panels: [panel] })).map(
      ({ k }) => k as string,
    );
    expect(colours[0]).toBe("#272757");
    const sum = (colour: string) =>
      [1, 3, 5].reduce((s, i) => s + parseInt(colour.slice(i, i + 2), 16), 0);
    expect(sum(colours[1]!)).toBeGreaterThan(sum(colours[0]!));
    expect(sum(colours[2]!)).toBeGreaterThan(sum(colours[1]!));
  });

  it("leaves cells without a value out, so that gaps stay gaps", () => {
    const cell = { from_m: 0, to_m: 5, top_m: 0, base_m: 1, value: Number.NaN };
    const cells = [cell, { ...cell, from_m: 5, to_m: 10, value: 20 }];
    const panel = { kind: "cells", label: "Depth", unit: "ohm-m", cells } as const;
    expect(rows(stripSpec({ title: "Gap", panels: [panel] }))).toHaveLength(1);
  });

  it("gives every panel a legend of its own", async () => {
    const line = (label: string, names: readonly string[]) => {
      const series = names.map((name) => ({ name, x, y: x }));
      return { kind: "lines", label, scale: "linear", series } as const;
    };
    const panels = [line("A", ["one", "two"]), line("B", ["three", "four"])];
    const svg = await expectDraws(stripSpec({ title: "Two legends", panels }));
    expect(svg.match(/role-legend"/g)).toHaveLength(2);
  });

  it("puts stretches that overlap in rows of their own", async () => {
    const stretches = [
      { from_m: 0, to_m: 60, text: "B1", group: "A" },
      { from_m: 50, to_m: 100, text: "B2", group: "B" },
      { from_m: 60, to_m: 90, text: "B3", group: "A" },
    ];
    const spec = stripSpec({
      title: "Bars",
      panels: [{ kind: "stretches", label: "Blocks", stretches }],
    });
    expect(rows(spec).map(({ lane }) => lane)).toEqual([0, 1, 0]);
    expect(await expectDraws(spec)).toContain(">B2</text>");
  });
});
