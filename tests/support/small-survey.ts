// A survey of nothing but what a test says of it.
import type { Survey } from "../../lib/survey/survey.js";
import { campaignOf, channelOf } from "./campaign.js";

export function smallSurvey(sketch: Partial<Survey> = {}): Survey {
  const campaign = campaignOf({
    passes: [{ channels: [channelOf()], values: [[1, 1]], chainage_m: [0, 800] }],
  });
  return {
    name: "sedgeholm-small",
    title: "Sedgeholm Bank, small",
    embankment: "Sedgeholm Bank",
    waterway: "River Wend",
    waterside: "left",
    designWaterLevel_m: 5.6,
    length_m: 800,
    centreline: campaign.centreline,
    crossSectionAt: () => ({
      crestWidth_m: 4,
      crestElevation_m: 6.2,
      foundationElevation_m: 2.4,
      watersideSlope: 3,
      landsideSlope: 2.5,
    }),
    campaigns: [campaign],
    fieldNotes: [],
    soilTemperature: [],
    waterLevels: [],
    resistivityLines: [],
    boreholes: [],
    incidents: [],
    inputs: [],
    ...sketch,
  };
}
