/** What is fixed about the invented Sedgeholm Bank, its waterway and its two campaigns. */

export const FACTS = Object.freeze({
  seed: 20311014,
  embankment: "Sedgeholm Bank",
  waterway: "River Wend",
  epsg: 32631,
  length_m: 2400,
  crestWidth_m: 4,
  crestElevation_m: 6.2,
  foundationElevation_m: 2.4,
  watersideSlope: 3,
  landsideSlope: 2.5,
  designWaterLevel_m: 5.6,
  /** Clock time of the survey, minutes ahead of UTC, all year. */
  clockOffset_min: 60,
});

export type CampaignLabel = "2031-10" | "2032-03";

export interface CampaignFacts {
  readonly label: CampaignLabel;
  readonly title: string;
  /** The day's first base check begins at this instant. */
  readonly start: string;
  /** Where trees hid the sky, by pass; the antenna gave no position there. */
  readonly gpsGaps: readonly GpsGap[];
}

export interface GpsGap {
  readonly orientation: "HCP" | "VCP";
  readonly from_m: number;
  readonly to_m: number;
}

export const CAMPAIGNS: readonly CampaignFacts[] = Object.freeze([
  {
    label: "2031-10",
    title: "Autumn, low water",
    start: "2031-10-14T08:31:00+01:00",
    gpsGaps: [
      { orientation: "HCP", from_m: 676, to_m: 702 },
      { orientation: "VCP", from_m: 677.5, to_m: 701.5 },
      { orientation: "HCP", from_m: 2043, to_m: 2068 },
      { orientation: "VCP", from_m: 2041.5, to_m: 2066 },
    ],
  },
  {
    label: "2032-03",
    title: "Spring, high water",
    start: "2032-03-18T08:47:00+01:00",
    gpsGaps: [
      { orientation: "HCP", from_m: 675, to_m: 701 },
      { orientation: "VCP", from_m: 676.5, to_m: 700 },
      { orientation: "HCP", from_m: 1036, to_m: 1061 },
      { orientation: "VCP", from_m: 1037.5, to_m: 1063 },
    ],
  },
]);
