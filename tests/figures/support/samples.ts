import type { CurveFigure } from "../../../lib/figures/curve/curve.js";
import type { DepthFigure } from "../../../lib/figures/depth/depth.js";
import type { PlanMap } from "../../../lib/figures/plan/plan-map.js";
import type { ProfileFigure } from "../../../lib/figures/profile.js";
import type { RankingFigure } from "../../../lib/figures/ranking.js";
import type { Cell, Strip } from "../../../lib/figures/strip/strip.js";

/** A made-up strip with every kind of panel, gaps, bands, marks and texts that crowd. */
export function sampleStrip(stations = 2000): Strip {
  const x = Array.from({ length: stations }, (_, i) => (2400 * i) / (stations - 1));
  const gap = (m: number) => (m > 640 && m < 668) || (m > 1500 && m < 1512);
  const wave = (m: number, k: number) => 900 + 300 * Math.sin(m / (150 + 40 * k)) + 120 * k;
  const series = [0, 1, 2, 3, 4].map((k) => ({
    name: `${[1.5, 4.8, 15, 30, 60][k]} kHz`,
    x,
    y: x.map((m, i) => (gap(m) ? Number.NaN : wave(m, k) + 25 * Math.sin(i * 12.9898 * (k + 1)))),
  }));
  const ratio = x.map((m) => (gap(m) ? Number.NaN : 0.05 * Math.sin(m / 200)));
  return {
    title:
      "The upper two metres turn sandy between 1,180 m and 1,540 m on the Sedgeholm Bank, and stay so at high water",
    subtitle:
      "Campaign 2031-10; grey: set aside, cause above; dashed: block boundaries with 90 % interval",
    panels: [
      {
        kind: "lines",
        label: "Quadrature, HCP (ppm)",
        scale: "linear",
        series,
        legend: "Frequency",
      },
      {
        kind: "lines",
        label: "Change of log10 resistivity, 0–1 m",
        scale: "linear",
        zeroRule: true,
        series: [
          {
            name: "later / earlier",
            x,
            y: ratio,
            lo: ratio.map((r) => r - 0.02),
            hi: ratio.map((r) => r + 0.02),
          },
        ],
      },
      {
        kind: "cells",
        label: "Resistivity by depth",
        cells: sampleCells(),
        unit: "ohm-m",
        reliableTo_m: 3.2,
      },
      {
        kind: "stretches",
        label: "Blocks",
        legend: "Class",
        stretches: [
          { from_m: 0, to_m: 420, text: "B1", group: "A" },
          { from_m: 420, to_m: 1180, text: "B2", group: "C" },
          { from_m: 1180, to_m: 1540, text: "B3", group: "D" },
          { from_m: 1540, to_m: 1560, text: "B4 is narrow", group: "B" },
          { from_m: 1550, to_m: 2400, text: "B5", group: "A" },
        ],
      },
      {
        kind: "points",
        label: "Misfit (1 is the noise)",
        scale: "log",
        points: [
          { x_m: 200, y: 1.1, lo: 0.9, hi: 1.4, group: "HCP", text: "R1" },
          { x_m: 900, y: 0.8, group: "VCP" },
        ],
      },
    ],
    setAside: [
      { from_m: 640, to_m: 668, text: "culvert", detail: "noted culvert and in-phase step" },
      { from_m: 655, to_m: 668, text: "gate" },
      { from_m: 1500, to_m: 1512, text: "detected, no note" },
      { from_m: 1520, to_m: 1522, text: "guard rail" },
      { from_m: 1526, to_m: 1528, text: "guard rail" },
      { from_m: 2360, to_m: 2390, text: "sheet piling at the river lock" },
    ],
    marks: [
      { at_m: 420, lo_m: 412, hi_m: 431, text: "B1 | B2" },
      { at_m: 1180, lo_m: 1170, hi_m: 1186, text: "B2 | B3" },
      { at_m: 1540, lo_m: 1534, hi_m: 1561, text: "B3 | B4" },
    ],
  };
}

function sampleCells(): readonly Cell[] {
  const cells: Cell[] = [];
  for (let i = 0; i < 480; i++) {
    if (i >= 128 && i < 134) continue;
    for (let k = 0; k < 12; k++) {
      const value =
        40 * 10 ** (0.6 * Math.sin(i / 45) * Math.cos(k / 5) + 0.02 * Math.sin(i * 7.1));
      const confidence = Math.exp(-k / 9);
      cells.push({
        from_m: i * 5,
        to_m: i * 5 + 5,
        top_m: k * 0.5,
        base_m: k * 0.5 + 0.5,
        value,
        confidence,
      });
    }
  }
  return cells;
}

const sine = (n: number, k: number) => Array.from({ length: n }, (_, i) => Math.sin(i / (10 + k)));

/** Five channels' base checks with error bars and a fitted line each, over time. */
export function sampleCurve(): CurveFigure {
  const start_s = 1_949_476_800;
  const hours = Array.from({ length: 61 }, (_, i) => i / 10);
  return {
    title: "Every channel drifts, and steps when the battery is changed",
    subtitle: "Base checks of campaign 2031-10 with their scatter, and the fitted lines",
    x: { label: "Time (UTC)", scale: "time" },
    y: { label: "Change since the first check (ppm)", scale: "linear", withZero: true },
    plots: [0, 1, 2, 3, 4].map((k) => ({
      label: `${[1.5, 4.8, 15, 30, 60][k]} kHz HCP`,
      series: [
        {
          name: "base check",
          form: "points" as const,
          x: [0, 1, 2, 3, 4, 5, 6].map((h) => start_s + 3600 * h),
          y: [0, 9, 22, 28, 61, 70, 82].map((v) => v * (1 + k / 4)),
          lo: [0, 9, 22, 28, 61, 70, 82].map((v) => v * (1 + k / 4) - 6),
          hi: [0, 9, 22, 28, 61, 70, 82].map((v) => v * (1 + k / 4) + 6),
        },
        {
          name: "fitted drift",
          form: "line" as const,
          x: hours.map((h) => start_s + 3600 * h),
          y: hours.map((h) =>
            Math.abs(h - 3.5) < 0.04 ? Number.NaN : (10 * h + (h > 3.5 ? 22 : 0)) * (1 + k / 4),
          ),
        },
      ],
      marks: [{ at: start_s + 3600 * 3.5, text: "battery" }],
    })),
  };
}

export function samplePlan(): PlanMap {
  const t = Array.from({ length: 400 }, (_, i) => i / 399);
  const easting = t.map((s) => 512_340 + 2200 * s);
  const northing = t.map((s) => 5_712_100 + 260 * Math.sin(s * 5) + 80 * Math.sin(s * 17));
  const piece = (a: number, b: number) => ({
    easting_m: easting.slice(a, b + 1),
    northing_m: northing.slice(a, b + 1),
  });
  return {
    title: "The sandy block lies behind the second bend, where both sand boils were seen",
    subtitle: "Sedgeholm Bank, River Wend to the north; blocks by class",
    epsg: 32631,
    lines: [
      { name: "centreline", easting_m: easting, northing_m: northing },
      { name: "river edge", easting_m: easting, northing_m: northing.map((n) => n + 60) },
    ],
    stretches: [
      { ...piece(0, 90), text: "B1", group: "A" },
      { ...piece(90, 210), text: "B2", group: "C" },
      { ...piece(210, 399), text: "B3", group: "B" },
    ],
    legend: "Class",
    points: [
      { easting_m: easting[120]!, northing_m: northing[120]! - 20, name: "BH1", kind: "borehole" },
      { easting_m: easting[300]!, northing_m: northing[300]! - 20, name: "BH2", kind: "borehole" },
      {
        easting_m: easting[150]!,
        northing_m: northing[150]! - 45,
        name: "sand boil 2027",
        kind: "incident",
      },
      {
        easting_m: easting[152]!,
        northing_m: northing[152]! - 45,
        name: "sand boil 2029",
        kind: "incident",
      },
    ],
    ticks: [0, 80, 160, 240, 320, 399].map((i) => ({
      easting_m: easting[i]!,
      northing_m: northing[i]!,
      text: `${i * 6} m`,
    })),
  };
}

export function sampleValuePlan(): PlanMap {
  const plan = samplePlan();
  const line = plan.lines[0]!;
  const stretches = Array.from({ length: 199 }, (_, k) => ({
    easting_m: [0, 1, 2].map((i) => line.easting_m[2 * k + i]!),
    northing_m: [0, 1, 2].map((i) => line.northing_m[2 * k + i]!),
    text: `${k}`,
    value: 30 * 10 ** (0.5 * sine(199, 3)[k]!),
  }));
  const { legend: _legend, ...rest } = plan;
  return {
    ...rest,
    title: "Resistivity of the upper metre falls toward the lock",
    stretches,
    unit: "ohm-m",
  };
}

export function sampleRanking(): RankingFigure {
  const parts = (...values: readonly number[]) =>
    [
      "resistive below a thin blanket",
      "changed with the water",
      "incident within 50 m",
      "masked",
    ].map((name, i) => ({ name, value: values[i] ?? 0, text: "because of the slices" }));
  return {
    title: "Two zones stand out: the lens at 1,180 m and the stretch by the old sluice",
    scoreLabel: "Score (sum of weighted evidence)",
    zones: [
      {
        name: "1 · 1,180–1,260 m",
        score: 4.2,
        band: "high",
        probability: 0.81,
        contributions: parts(2, 1.4, 0.8, 0),
      },
      {
        name: "2 · 612–668 m",
        score: 2.6,
        band: "moderate",
        probability: 0.55,
        contributions: parts(1.6, 0, 1.3, -0.3),
      },
      {
        name: "3 · 2,010–2,040 m",
        score: 0.4,
        band: "low",
        probability: null,
        contributions: parts(0.9, 0, 0, -0.5),
      },
    ],
  };
}

export function sampleProfile(): ProfileFigure {
  return {
    title: "At 1,200 m a resistive layer lies between 1.5 m and 3 m",
    label: "Resistivity (ohm-m)",
    profiles: [
      { name: "2031-10", top_m: [0, 0.5, 1.5, 3, 5], base_m: 8, value: [30, 25, 110, 40, 22] },
      { name: "2032-04", top_m: [0, 0.5, 1.5, 3, 5], base_m: 8, value: [24, 22, 80, 38, 22] },
    ],
  };
}

/** A log, resistivities with their bands and samples, and sensitivities of three channels. */
export function sampleDepth(): DepthFigure {
  return {
    title: "A resistive layer lies between 1 m and 2 m",
    subtitle: "Campaign 2031-10",
    base_m: 4,
    panels: [
      {
        kind: "column",
        label: "Log of BH3",
        layers: [
          { top_m: 0, base_m: 0.1, text: "sandy SILT", short: "saSi" },
          { top_m: 0.1, base_m: 2, text: "silty CLAY with a very long name indeed", short: "siCl" },
          { top_m: 2, base_m: 9, text: "fine SAND", short: "Sa" },
          { top_m: 9, base_m: 12, text: "never drawn", short: "no" },
        ],
      },
      {
        kind: "values",
        label: "Resistivity",
        axis: "Resistivity (ohm-m)",
        scale: "log",
        legend: "Resistivity",
        steps: [
          {
            name: "most likely",
            top_m: [0, 1, 2, 6],
            value: [20, 80, 30, 1],
            lo: [18, 50, Number.NaN, 1],
            hi: [22, 120, 60, 1],
          },
        ],
        points: [
          { name: "sample", depth_m: 1.5, value: 90 },
          { name: "sample", depth_m: 7, value: 9000 },
        ],
      },
      {
        kind: "values",
        label: "Sensitivity",
        axis: "Above (%)",
        scale: "linear",
        domain: [0, 100],
        legend: "Channels",
        curves: [
          { name: "HCP", detail: "HCP, 1 kHz", depth_m: [0, 1, 3, 8], value: [0, 30, 60, 90] },
          { name: "HCP", detail: "HCP, 9 kHz", depth_m: [0, 1, 3, 8], value: [0, 32, 64, 92] },
          { name: "VCP", detail: "VCP, 1 kHz", depth_m: [0, 1, 3, 8], value: [0, 50, 80, 95] },
        ],
      },
    ],
    below: { from_m: 3, text: "reliable to 3 m" },
  };
}
