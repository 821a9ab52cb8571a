import type { SurveyProperties } from "../read/package/descriptor.js";
import { type Enquiry, type Matter, numberRule } from "./enquiry.js";

const number = numberRule(null);
const above = numberRule(0);

const OPTIONAL: readonly (Pick<Matter, "name" | "ask" | "broken" | "choices"> & {
  readonly isText?: boolean;
})[] = [
  { name: "waterway", ask: "What is the waterway called?", isText: true },
  {
    name: "waterside",
    ask: "On which side is the water, walking toward increasing chainage?",
    choices: ["left", "right"],
    isText: true,
  },
  { name: "crestWidth_m", ask: "How wide is the crest, m?", broken: above },
  { name: "crestElevation_m", ask: "At which elevation is the crest, m?", broken: number },
  {
    name: "foundationElevation_m",
    ask: "At which elevation is the natural ground at the toe, m?",
    broken: number,
  },
  { name: "watersideSlope", ask: "Waterside slope, horizontal per 1 vertical?", broken: above },
  { name: "landsideSlope", ask: "Landside slope, horizontal per 1 vertical?", broken: above },
  {
    name: "designWaterLevel_m",
    ask: "At which elevation is the design water level, m?",
    broken: number,
  },
];

/**
 * What the survey as a whole is called and what its bank looks like; most of it may be left open.
 */
export function settleSurvey(folderName: string, enquiry: Enquiry): SurveyProperties {
  const embankment = enquiry.settle({
    name: "embankment",
    ask: "What is the embankment called?",
    guess: folderName,
    why: "the folder's name",
    isOptional: true,
  });
  const told: Record<string, string | number> = {};
  for (const { isText = false, ...matter } of OPTIONAL) {
    const why = "may be left open: the appendix then says what it does without";
    const answer = enquiry.settle({ ...matter, guess: null, why, isOptional: true });
    if (answer !== null) told[matter.name] = isText ? answer : Number(answer);
  }
  return { ...(embankment === null ? {} : { embankment }), ...told };
}
