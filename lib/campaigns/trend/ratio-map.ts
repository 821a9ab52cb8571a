import { mixed } from "../../figures/colour.js";
import { haloed } from "../../figures/halo.js";
import { rounded, significant } from "../../figures/numbers.js";
import { directionColours, figureWidth_px, fontSizes, greys } from "../../figures/theme.js";
import { firstOf, itemAt, lastOf, zipped } from "../../numerics/arrays.js";
import { presentCount, presentMean } from "../../numerics/statistics/present.js";
import { depthText } from "../ranges.js";
import type { CampaignSeries } from "./trend.js";

type Json = Readonly<Record<string, unknown>>;

/** Cells that a map of one slice may hold along the line. */
const CELLS = 260;
const ROW_PX = 24;

/** One slice, campaign by campaign: the ratio to the first campaign by colour; grey is unknown. */
export function ratioMap(series: CampaignSeries, k: number, most: number): Json {
  const { campaigns, chainage_m } = series;
  const values = zipped(campaigns, series.log10Ratio).flatMap(([campaign, columns]) =>
    cellsOf(chainage_m, itemAt(columns, k)).map((cell) => ({ ...cell, c: campaign })),
  );
  return {
    width: figureWidth_px,
    height: ROW_PX * campaigns.length,
    view: { fill: greys.band },
    data: { values },
    layer: [
      {
        mark: { type: "rect", clip: true },
        encoding: {
          x: chainageOf(series, "a", false),
          x2: { field: "b" },
          y: rowsOf(series),
          color: colourOf(series, most),
          tooltip: [
            { field: "c", title: "Campaign" },
            { field: "a", title: "From (m)" },
            { field: "v", title: "Ratio" },
          ],
        },
      },
      ...haloed({
        text: `${depthText(itemAt(series.slices, k))} m depth`,
        x: 0,
        y: -12,
        align: "left",
        fontSize: fontSizes.heading,
      }),
    ],
  };
}

function colourOf({ campaigns }: CampaignSeries, most: number): Json {
  const ticks = [1 / most, 1 / Math.sqrt(most), 1, Math.sqrt(most), most];
  const stops = colourStops(most);
  return {
    field: "v",
    type: "quantitative",
    scale: {
      type: "log",
      domain: stops.map(({ at }) => at),
      range: stops.map(({ colour }) => colour),
      clamp: true,
    },
    legend: {
      title: ["Ratio to", campaigns[0]],
      values: ticks.map((tick) => significant(tick, 3)),
      format: ".2~f",
      gradientLength: Math.max(60, ROW_PX * campaigns.length - 40),
      gradientThickness: 12,
    },
  };
}

export function chainageOf({ chainage_m }: CampaignSeries, field: string, labelled: boolean): Json {
  return {
    field,
    type: "quantitative",
    scale: {
      domain: [firstOf(chainage_m), lastOf(chainage_m)],
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
function colourStops(most: number): { readonly at: number | null; readonly colour: string }[] {
  const { fell, rose } = directionColours;
  return [-1, -0.5, 0, 0.5, 1].map((share) => ({
    at: significant(most ** share, 5),
    colour: mixed("#f4f4f2", share < 0 ? fell : rose, Math.abs(share)),
  }));
}

/** Means of the stations of one cell; a cell of which half is unknown is left out. */
function cellsOf(chainage_m: Float64Array, column: Float64Array) {
  const n = column.length;
  const size = Math.max(1, Math.ceil(n / CELLS));
  const half = n > 1 ? (itemAt(chainage_m, 1) - firstOf(chainage_m)) / 2 : 0.5;
  return Array.from({ length: Math.ceil(n / size) }, (_, cell) => {
    const x = chainage_m.subarray(cell * size, (cell + 1) * size);
    const part = column.subarray(cell * size, (cell + 1) * size);
    return {
      known: presentCount(part) / part.length,
      a: rounded(firstOf(x) - half),
      b: rounded(lastOf(x) + 1.1 * half),
      v: significant(10 ** presentMean(part), 3),
    };
  }).flatMap(({ known, ...cell }) => (known > 0.5 ? [cell] : []));
}
