import type { StepReport } from "../../step/define-step.js";
import { listText } from "../../step/list-text.js";
import type { Basis } from "../../step/step-account.js";
import { placeText } from "../ranges.js";
import { SLICE_LIMITS } from "../slice-limits.js";
import { trendFigure } from "./figures.js";
import type { TrendOptions } from "./options.js";
import { perYear, trendTable } from "./tables.js";
import type { CampaignTrend } from "./trend.js";
import type { FoundTrend } from "./trend-along.js";

/** The account of `trendOverCampaigns`. */
export function trendReport(made: FoundTrend, used: TrendOptions): StepReport<CampaignTrend> {
  const { value } = made;
  const drawn = value.chainage_m.length > 0 && value.slices.length > 0;
  return {
    value,
    summary: summaryOf(made),
    basis: BASIS,
    cautions: cautionsOf(made, used),
    figures: drawn ? [trendFigure(made)] : [],
    tables: value.trends.length > 0 ? [trendTable(value)] : [],
  };
}

const BASIS: readonly Basis[] = [
  {
    statement: "The slope of a station is the median of the slopes of all pairs of campaigns.",
    source: "Sen 1968, Journal of the American Statistical Association 63, 1379–1389",
  },
  {
    statement:
      "Whether a station goes one way is told by the order of its values, exactly for few " +
      "campaigns.",
    source: "Mann 1945, Econometrica 13, 245–259; Kendall 1975, Rank Correlation Methods",
  },
  {
    statement: "A stretch is weighed against the heaviest that any other order of campaigns gives.",
    source: "Nichols & Holmes 2002, Human Brain Mapping 15, 1–25; Westfall & Young 1993",
  },
];

/** "Over five campaigns the resistivity falls by … at …" */
function summaryOf({ value, corrected }: FoundTrend): string {
  const { campaigns, trends } = value;
  const span = `${campaigns.length} campaigns from ${campaigns[0]} to ${campaigns.at(-1)}`;
  if (value.slices.length === 0) return `The ${span} share no reliable slice.`;
  const degrees = corrected ? "All were taken to 25 °C." : "Temperature was not corrected.";
  if (campaigns.length < 5) {
    return `The ${span} are too few to tell a trend from chance; slopes are given. ${degrees}`;
  }
  const places = trends.map(
    (one) => `${one.direction} (${perYear(one.ratioPerYear)}) at ${placeText(one)}`,
  );
  const found =
    trends.length === 0
      ? `Over ${span} no stretch goes one way beyond chance.`
      : `Over ${span} the resistivity ${listText(places)}.`;
  return `${found} ${degrees}`;
}

function cautionsOf({ value, corrected }: FoundTrend, used: TrendOptions): readonly string[] {
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
      `With ${c} campaigns only a stretch that goes one way in nearly every one of them is ` +
        "found, and none weaker.",
    );
  }
  if (c < 10) {
    texts.push(
      "Likeness between successive campaigns cannot be told from under ten: moisture that " +
        "lingers from one to the next can look like a trend.",
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
  if (value.trends.length > 0) texts.push(SLICE_LIMITS);
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
