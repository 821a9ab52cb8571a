import { haloed } from "../../figures/halo.js";
import { rounded } from "../../figures/numbers.js";
import { directionColours, figureWidth_px, fontSizes, greys, theme } from "../../figures/theme.js";
import { type Headed, titleBlock } from "../../figures/title.js";
import type { Figure } from "../../step/figure.js";
import { listText } from "../../step/list-text.js";
import { placeText } from "../ranges.js";
import { chainageOf, ratioMap } from "./ratio-map.js";
import { perYear } from "./tables.js";
import type { CampaignSeries, CampaignTrend, Trend } from "./trend.js";
import type { FoundTrend } from "./trend-along.js";

type Json = Readonly<Record<string, unknown>>;

/** Every slice campaign by campaign, and the stretches that go one way. */
export function trendFigure({ value, corrected }: FoundTrend): Figure {
  const title = trendTitle(value);
  const head = {
    title,
    subtitle:
      `Resistivity of each campaign over that of ${value.campaigns[0]}, ` +
      `${corrected ? "at 25 °C" : "at field temperature"}, less the campaign's level; grey is ` +
      "unknown",
  };
  return {
    id: `trend-${value.campaigns[0]}-${value.campaigns.at(-1)}`,
    title,
    caption:
      "One row a campaign, one map a depth slice; colour is the ratio to the first campaign on a " +
      "logarithmic scale (moving mean along the line). Below, the stretches that go one way " +
      "beyond chance, with their rate a year in the slice where it shows most. Grey is unknown, " +
      "not unchanged.",
    spec: mapsSpec(head, value),
  };
}

function trendTitle({ campaigns, trends }: CampaignTrend): string {
  if (campaigns.length < 5) {
    return `${campaigns.length} campaigns, too few to tell a trend from chance`;
  }
  if (trends.length === 0) return `No stretch goes one way over ${campaigns.length} campaigns`;
  if (trends.length > 3) {
    return `${trends.length} stretches go one way over ${campaigns.length} campaigns`;
  }
  const part = (one: Trend) =>
    `${one.direction} by ${perYear(one.ratioPerYear)} at ${placeText(one)}`;
  const places = listText(trends.map(part));
  return `Resistivity ${places.replaceAll(/by [−+]/g, "by ")}`;
}

/** Maps of all slices over one chainage axis, with the trends below. */
function mapsSpec(head: Headed, value: CampaignTrend): Figure["spec"] {
  const most = greatestRatio(value);
  return {
    $schema: "https://vega.github.io/schema/vega-lite/v5.json",
    title: titleBlock(head, figureWidth_px),
    config: theme,
    bounds: "flush",
    spacing: 32,
    resolve: { scale: { color: "independent" }, legend: { color: "independent" } },
    vconcat: [...value.slices.map((_, k) => ratioMap(value, k, most)), trendsView(value)],
  };
}

/** The colours' end: 1.2, 1.5, 2, 3 or 5, whichever holds 99 of 100 ratios. */
function greatestRatio({ log10Ratio }: CampaignSeries): number {
  const all = log10Ratio
    .flatMap((columns) => columns.flatMap((column) => Array.from(column, Math.abs)))
    .filter((value) => !Number.isNaN(value))
    .sort((a, b) => a - b);
  const high = 10 ** (all[Math.floor(0.99 * (all.length - 1))] ?? 0);
  return [1.2, 1.5, 2, 3, 5].find((step) => step >= high) ?? 5;
}

function trendsView(value: CampaignTrend): Json {
  const values = value.trends.map((one) => ({
    a: rounded(one.from_m),
    b: rounded(one.to_m),
    k: one.direction === "falls" ? directionColours.fell : directionColours.rose,
    t: `${one.direction} ${perYear(one.ratioPerYear)}, q ${one.q.toPrecision(2)}`,
  }));
  return {
    width: figureWidth_px,
    height: 22,
    data: { values: values.length > 0 ? values : [{ a: null, b: null, k: greys.band, t: "" }] },
    layer: [
      {
        mark: { type: "rect", clip: true },
        encoding: {
          x: chainageOf(value, "a", true),
          x2: { field: "b" },
          fill: { field: "k", type: "nominal", scale: null },
          tooltip: [
            { field: "t", title: "What" },
            { field: "a", title: "From (m)" },
            { field: "b", title: "To (m)" },
          ],
        },
      },
      ...haloed({
        text: "Stretches that go one way",
        x: 0,
        y: -12,
        align: "left",
        fontSize: fontSizes.heading,
      }),
    ],
  };
}
