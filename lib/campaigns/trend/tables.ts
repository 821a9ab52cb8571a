import type { Table } from "../../step/figure.js";
import { signedText } from "../ranges.js";
import type { CampaignTrend } from "./trend.js";

/** Such as "−5.6 % a year". */
export const perYear = (ratio: number) => `${signedText(100 * (ratio - 1), 1)} % a year`;

/** One row a stretch: where, which way, how fast, how sure. */
export function trendTable(value: CampaignTrend): Table {
  return {
    id: `trend-${value.campaigns[0]}-${value.campaigns.at(-1)}`,
    caption:
      "Stretches whose resistivity goes one way over the campaigns, at 25 °C relative to the " +
      "line's level, in the slice where it shows most; q is the probability of any such stretch " +
      "by chance.",
    columns: [
      { field: "from_m", label: "From (m)", digits: 1 },
      { field: "to_m", label: "To (m)", digits: 1 },
      { field: "direction", label: "Resistivity" },
      { field: "rate", label: "Rate" },
      { field: "interval", label: "90 % interval" },
      { field: "q", label: "q", digits: 3 },
      { field: "slices", label: "Depths (m)" },
    ],
    rows: value.trends.map((one) => ({
      from_m: one.from_m,
      to_m: one.to_m,
      direction: one.direction,
      rate: perYear(one.ratioPerYear),
      interval: one.ratioPerYearInterval.map(perYear).join(" to "),
      q: one.q,
      slices: one.slices.join(", "),
    })),
  };
}
