import { channelsOf } from "./channels-of.js";
import type { Campaign, Survey } from "./survey.js";
import { timeSpan } from "./time-span.js";

/** What is absent and what that costs, as cautions. */
export function absences(survey: Survey): readonly string[] {
  const { campaigns } = survey;
  const without = (lacks: (campaign: Campaign) => boolean, text: string) => {
    const labels = campaigns.filter(lacks).map(({ label }) => label);
    return labels.length === 0 ? [] : [`No ${text} (${labels.join(", ")}).`];
  };
  const absent = (lacks: boolean, text: string) => (lacks ? [`No ${text}.`] : []);
  const noTime = (campaign: Campaign) => Number.isNaN(timeSpan(campaign.passes).first_s);
  return [
    ...without(noTime, "times: drift and temperature cannot be placed in time"),
    ...without(
      ({ baseChecks }) => baseChecks.length === 0,
      "base checks: instrument drift cannot be told from the ground",
    ),
    ...without(
      (campaign) => channelsOf(campaign, "inphase") === 0,
      "in-phase channels: metal shows less clearly",
    ),
    ...without(
      ({ soilTemperature }) => soilTemperature.length === 0,
      "soil temperatures: campaigns cannot be brought to 25 °C",
    ),
    ...absent(
      survey.fieldNotes.length === 0,
      "field notes: metal objects are found by reading alone",
    ),
    ...absent(
      survey.waterLevels.length === 0,
      "water levels: the head across the bank is not known",
    ),
    ...absent(
      survey.resistivityLines.length === 0,
      "resistivity lines: no second method to compare",
    ),
    ...absent(survey.boreholes.length === 0, "boreholes: classes of ground cannot be named"),
    ...absent(survey.incidents.length === 0, "incidents: past seepage cannot speak as evidence"),
    ...absent(campaigns.length < 2, "second campaign: changes cannot be looked for"),
  ];
}
