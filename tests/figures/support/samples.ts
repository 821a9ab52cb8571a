import type { Cell, Strip } from "../../../lib/figures/strip.js";

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
