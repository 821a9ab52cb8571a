import { describe, expect, it } from "vitest";
import { curveSpec } from "../../lib/figures/curve/curve.js";
import { planMapSpec } from "../../lib/figures/plan/plan-map.js";
import { profileSpec } from "../../lib/figures/profile.js";
import { rankingSpec } from "../../lib/figures/ranking.js";
import { type Cell, stripSpec } from "../../lib/figures/strip/strip.js";
import type { VegaLiteSpec } from "../../lib/step/figure.js";
import { frozen } from "../../lib/step/frozen.js";
import { expectDraws, expectValidSpec } from "./support/check-spec.js";
import {
  sampleCurve,
  samplePlan,
  sampleProfile,
  sampleRanking,
  sampleStrip,
  sampleValuePlan,
} from "./support/samples.js";

const forms: readonly (readonly [string, () => VegaLiteSpec])[] = [
  ["a strip", () => stripSpec(frozen(sampleStrip()))],
  ["a strip without panels", () => stripSpec({ title: "Nothing", panels: [] })],
  ["a strip that hangs from a crest", () => stripSpec(frozen(hungStrip()))],
  ["a strip of 12,000 stations", () => stripSpec(sampleStrip(12_000))],
  ["a curve figure", () => curveSpec(frozen(sampleCurve()))],
  ["a plan with groups", () => planMapSpec(frozen(samplePlan()))],
  ["a plan with values", () => planMapSpec(frozen(sampleValuePlan()))],
  ["a plan without anything", () => planMapSpec({ title: "Nothing", lines: [] })],
  ["a ranking", () => rankingSpec(frozen(sampleRanking()))],
  ["a ranking without zones", () => rankingSpec({ title: "None", scoreLabel: "Score", zones: [] })],
  ["a profile", () => profileSpec(frozen(sampleProfile()))],
  ["panels without values", () => stripSpec(emptyPanels())],
  ["a curve without values", () => curveSpec(emptyCurve())],
];

/** The sample's section under a crest that rises and falls by metres over its length. */
function hungStrip() {
  const strip = sampleStrip();
  const hung = (cell: Cell) => ({ ...cell, surface_m: 6 + Math.sin(cell.from_m / 300) });
  const panels = strip.panels.map((panel) =>
    panel.kind === "cells" ? { ...panel, cells: panel.cells.map(hung) } : panel,
  );
  return { ...strip, panels };
}

function emptyPanels() {
  const x = [0, 100];
  const none = [Number.NaN, Number.NaN];
  return {
    title: "Nothing was measured",
    panels: [
      { kind: "lines", label: "A", scale: "linear", series: [{ name: "a", x, y: none }] },
      { kind: "lines", label: "B", scale: "log", series: [{ name: "a", x, y: [0, -1] }] },
      { kind: "lines", label: "C", scale: "log", series: [] },
      { kind: "cells", label: "D", cells: [], unit: "ohm-m" },
      { kind: "stretches", label: "E", stretches: [] },
      { kind: "points", label: "F", scale: "log", points: [{ x_m: 3, y: 0, group: "a" }] },
      { kind: "rows", label: "G", rows: [], colours: {}, legend: "Times" },
    ],
  } as const;
}

function emptyCurve() {
  const series = [{ name: "a", form: "line", x: [], y: [] }] as const;
  return {
    title: "Nothing",
    x: { label: "Hours (h)", scale: "linear" },
    y: { label: "ppm", scale: "log" },
    plots: [{ label: "", series }],
  } as const;
}

describe("every form of figure", () => {
  it.each(forms)(
    "%s follows the Vega-Lite schema, draws and stays below 300 kB",
    async (_, make) => {
      const spec = make();
      expectValidSpec(spec);
      await expectDraws(spec);
      expect(JSON.stringify(spec).length).toBeLessThan(300_000);
    },
  );
});
