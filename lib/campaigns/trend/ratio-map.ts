import { mixed } from "../../figures/colour.js";
import { haloed } from "../../figures/halo.js";
import { rounded, significant } from "../../figures/numbers.js";
import { directionColours, figureWidth_px, fontSizes, greys } from "../../figures/theme.js";
import type { CampaignSeries } from "./trend.js";

type Json = Readonly<Record<string, unknown>>;

/** Cells that a map of one slice may hold along the line. */
const CELLS = 260;
const ROW_PX = 24;

/** One slice, campaign by campaign: the ratio to the first campaign by colour; grey is unknown. */
export function ratioMap(series: CampaignSeries, k: number, most: number): Json {
  const { top_m, base_m } = series.slices[k]!;
  const values = series.campaigns.flatMap((campaign, c) =>
    cellsOf(series, series.log10Ratio[c]![k]!).map((cell) => ({ ...cell, c: campaign })),
  );
  const ticks = [1 / most, 1 / Math.sqrt(most), 1, Math.sqrt(most), most];
  return {
    width: figureWidth_px,
    height: ROW_PX * series.campaigns.length,
    view: { fill: greys.band },
    data: { values },
    layer: [
      {
        mark: { type: "rect", clip: true },
        encoding: {
          x: chainageOf(series, "a", false),
          x2: { field: "b" },
          y: rowsOf(series),
          color: {
            field: "v",
            type: "quantitative",
            scale: {
              type: "log",
              domain: colourStops(most).map(({ at }) => at),
              range: colourStops(most).map(({ colour }) => colour),
              clamp: true,
            },
            legend: {
              title: ["Ratio to", series.campaigns[0]],
              values: ticks.map((tick) => significant(tick, 3)),
              format: ".2~f",
              gradientLength: Math.max(60, ROW_PX * series.campaigns.length - 40),
              gradientThickness: 12,
            },
          },
          tooltip: [
            { field: "c", title: "Campaign" },
            { field: "a", title: "From (m)" },
            { field: "v", title: "Ratio" },
          ],
        },
      },
      ...haloed({
        text: `${top_m.toFixed(1)}–${base_m.toFixed(1)} m depth`,
        x: 0,
        y: -12,
        align: "left",
        fontSize: fontSizes.heading,
      }),
    ],
  };
}

export function chainageOf({ chainage_m }: CampaignSeries, field: string, labelled: boolean): Json {
  return {
    field,
    type: "quantitative",
    scale: {
      domain: [chainage_m[0]!, chainage_m[chainage_m.length - 1]!],
      nice: false,
      zero: false,
    },
    axis: {
      title: labelled ? "Chainage (m)" : null,
      labels: labelled,
      grid: false,
      format: ",~f",
      labelFlush: false,
      tickCount: 12,
    },
  };
}

const rowsOf = ({ campaigns }: CampaignSeries): Json => ({
  field: "c",
  type: "nominal",
  sort: [...campaigns],
  scale: { domain: [...campaigns] },
  axis: { title: null, grid: false },
});

/** From the colour of a fall through near-white at 1 to that of a rise, even on a log scale. */
function colourStops(most: number): { readonly at: number; readonly colour: string }[] {
  const middle = "#f4f4f2";
  return [-1, -0.5, 0, 0.5, 1].map((share) => ({
    at: significant(most ** share, 5)!,
    colour: mixed(
      middle,
      share < 0 ? directionColours.fell : directionColours.rose,
      Math.abs(share),
    ),
  }));
}

/** Means of the stations of one cell; a cell of which half is unknown is left out. */
function cellsOf({ chainage_m }: CampaignSeries, column: Float64Array) {
  const n = column.length;
  const size = Math.max(1, Math.ceil(n / CELLS));
  const half = n > 1 ? (chainage_m[1]! - chainage_m[0]!) / 2 : 0.5;
  const cells: { a: number | null; b: number | null; v: number | null }[] = [];
  for (let i = 0; i < n; i += size) {
    const present = column.subarray(i, i + size).filter((value) => !Number.isNaN(value));
    const stations = Math.min(size, n - i);
    if (2 * present.length <= stations && present.length < stations) continue;
    const mean = present.reduce((sum, value) => sum + value, 0) / present.length;
    cells.push({
      a: rounded(chainage_m[i]! - half),
      b: rounded(chainage_m[i + stations - 1]! + 1.1 * half),
      v: significant(10 ** mean, 3),
    });
  }
  return cells;
}
