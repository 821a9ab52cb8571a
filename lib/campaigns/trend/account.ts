import type { Table } from "../../step/figure.js";
import { listText } from "../../step/list-text.js";
import type { Basis, Caution } from "../../step/step-account.js";
import type { TrendOptions } from "./options.js";
import type { CampaignTrend, Trend } from "./trend.js";

export interface TrendReport {
  readonly value: CampaignTrend;
  readonly used: TrendOptions;
  readonly corrected: boolean;
}

export const trendBasis: readonly Basis[] = Object.freeze([
  {
    statement: "The slope of a station is the median of the slopes of all pairs of campaigns.",
    source: "Sen 1968, Journal of the American Statistical Association 63, 1379–1389",
  },
  {
    statement:
      "Whether a station goes one way is told by the order of its values, exactly for few campaigns.",
    source: "Mann 1945, Econometrica 13, 245–259; Kendall 1975, Rank Correlation Methods",
  },
  {
    statement: "A stretch is weighed against the heaviest that any other order of campaigns gives.",
    source: "Nichols & Holmes 2002, Human Brain Mapping 15, 1–25; Westfall & Young 1993",
  },
]);

export const trendPlace = (one: Trend) => `${one.from_m.toFixed(0)}–${one.to_m.toFixed(0)} m`;

export const perYear = (ratio: number) => {
  const percent = 100 * (ratio - 1);
  return `${percent < 0 ? "−" : "+"}${Math.abs(percent).toFixed(1)} % a year`;
};

/** "Over five campaigns the resistivity falls by … at …" */
export function trendSummary({ value, corrected }: TrendReport): string {
  const { campaigns, trends } = value;
  const span = `${campaigns.length} campaigns from ${campaigns[0]} to ${campaigns.at(-1)}`;
  if (value.slices.length === 0) return `The ${span} share no reliable slice.`;
  const degrees = corrected ? "All were taken to 25 °C." : "Temperature was not corrected.";
  if (campaigns.length < 5) {
    return `The ${span} are too few to tell a trend from chance; slopes are given. ${degrees}`;
  }
  const places = trends.map(
    (one) => `${one.direction} (${perYear(one.ratioPerYear)}) at ${trendPlace(one)}`,
  );
  const found =
    trends.length === 0
      ? `Over ${span} no stretch goes one way beyond chance.`
      : `Over ${span} the resistivity ${listText(places)}.`;
  return `${found} ${degrees}`;
}

export function trendCautions(report: TrendReport): readonly Caution[] {
  return cautionTexts(report).map((text) => ({ step: "trendOverCampaigns", text }));
}

function cautionTexts({ value, used, corrected }: TrendReport): string[] {
  const c = value.campaigns.length;
  if (value.slices.length === 0) return ["No trend: no slice is reliable in every campaign."];
  const texts: string[] = [];
  if (c < 5) {
    texts.push(
      `${c} campaigns cannot show a trend: even all in order have a probability of ` +
        `${c === 3 ? "2 in 6" : "2 in 24"} by chance, over 5 %. It takes five.`,
    );
  } else if (c < 7) {
    texts.push(
      `With ${c} campaigns only a stretch that goes one way in nearly every one of them is found, ` +
        "and none weaker.",
    );
  }
  if (c < 10) {
    texts.push(
      "Likeness between successive campaigns cannot be told from under ten: moisture that lingers " +
        "from one to the next can look like a trend.",
    );
  }
  if (seasonsDiffer(value)) {
    texts.push(
      "The campaigns were walked at different times of the year: a season and a trend are told " +
        "apart only as far as the season is common to the whole line.",
    );
  }
  if (!corrected) {
    texts.push("Resistivities were compared at field temperature: soil temperatures are missing.");
  }
  if (used.level === "majority") {
    texts.push("A trend of the whole line is not seen: each campaign's level was removed.");
  }
  texts.push("Where the estimates lean on their prior, a slope is the least of the trend.");
  return texts;
}

/** True where the campaigns' days of the year spread over more than two months. */
function seasonsDiffer({ time_s }: CampaignTrend): boolean {
  const angles = Array.from(time_s, (time) => (2 * Math.PI * time) / (365.25 * 86400));
  const x = angles.reduce((sum, angle) => sum + Math.cos(angle), 0) / angles.length;
  const y = angles.reduce((sum, angle) => sum + Math.sin(angle), 0) / angles.length;
  return Math.hypot(x, y) < 0.87;
}

/** One row a stretch: where, which way, how fast, how sure. */
export function trendTable(value: CampaignTrend): Table {
  return {
    id: `trend-${value.campaigns[0]}-${value.campaigns.at(-1)}`,
    caption:
      "Stretches whose resistivity goes one way over the campaigns, at 25 °C relative to the line's " +
      "level, in the slice where it shows most; q is the probability of any such stretch by chance.",
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
