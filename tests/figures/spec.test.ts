import { expect, it } from "vitest";
import { curveSpec } from "../../lib/figures/curve/curve.js";
import { depthSpec } from "../../lib/figures/depth/depth.js";
import { planMapSpec } from "../../lib/figures/plan/plan-map.js";
import { profileSpec } from "../../lib/figures/profile.js";
import { rankingSpec } from "../../lib/figures/ranking.js";
import { type Cell, type Strip, stripSpec } from "../../lib/figures/strip/strip.js";
import type { VegaLiteSpec } from "../../lib/step/figure.js";
import {
  sampleCurve,
  sampleDepth,
  samplePlan,
  sampleProfile,
  sampleRanking,
  sampleStrip,
  sampleValuePlan,
} from "./support/samples.js";

const fading = ["known", "known in part", "not resolved"] as const;

/** The sample's panels with few values; `change` is made to its cells. */
function shortStrip(change: (cell: Cell) => Cell): Strip {
  const strip = sampleStrip(12);
  const panels = strip.panels.map((panel) =>
    panel.kind === "cells"
      ? { ...panel, cells: panel.cells.slice(0, 36).map(change), fading }
      : panel,
  );
  return { ...strip, panels };
}

function shortCurve() {
  const figure = sampleCurve();
  const series = figure.plots[0]?.series.map(({ x, y, ...rest }) => ({
    ...{ ...rest, x: Array.from(x).slice(0, 7), y: Array.from(y).slice(0, 7) },
  }));
  const setAside = [{ from: 1_949_480_000, to: 1_949_480_600, text: "rain" }];
  return { ...figure, plots: [{ label: "1.5 kHz", series: series ?? [], setAside }] };
}

function shortPlan(plan: ReturnType<typeof samplePlan>) {
  const short = ({ easting_m, northing_m }: (typeof plan.lines)[number]) => ({
    easting_m: Array.from(easting_m).filter((_, i) => i % 40 === 0),
    northing_m: Array.from(northing_m).filter((_, i) => i % 40 === 0),
  });
  const lines = plan.lines.map((line) => ({ ...line, ...short(line) }));
  return { ...plan, lines, stretches: plan.stretches?.slice(0, 4) ?? [] };
}

const specs: Readonly<Record<string, VegaLiteSpec>> = {
  strip: stripSpec(shortStrip((cell) => cell)),
  "strip-hung": stripSpec(shortStrip((cell) => ({ ...cell, surface_m: 6 - cell.from_m / 10 }))),
  "strip-empty": stripSpec({ title: "Nothing", panels: [] }),
  curve: curveSpec(shortCurve()),
  plan: planMapSpec(shortPlan(samplePlan())),
  "plan-values": planMapSpec(shortPlan(sampleValuePlan())),
  ranking: rankingSpec(sampleRanking()),
  profile: profileSpec(sampleProfile()),
  depth: depthSpec(sampleDepth()),
};

it.each(Object.keys(specs))("%s is specified as stored", async (name) => {
  const text = `${JSON.stringify(specs[name], null, 1)}\n`;
  await expect(text).toMatchFileSnapshot(`expected/${name}.json`);
});
