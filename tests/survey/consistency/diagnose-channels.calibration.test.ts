// Slips in the description of sound readings are named; the truth is what was done to them.
import { describe, expect, it } from "vitest";
import type { Campaign } from "../../../lib/index.js";
import { diagnoseChannels } from "../../../lib/survey/consistency/diagnose-channels.js";
import { diagnosisText } from "../../../lib/survey/consistency/sentences.js";
import { campaignsOf, type InstrumentKind, makeSurvey } from "../../abroad/index.js";
import { described, exchanged, otherPart, rescaled } from "./spoiled-campaigns.js";

const PLAN = { seed: 4711, ground: "blocks", errors: "field", length_m: 80 } as const;

const sound = (instrument: InstrumentKind): Campaign =>
  campaignsOf(makeSurvey({ ...PLAN, instrument }))[0]!;

const turned = (from: "HCP" | "VCP", to: "HCP" | "VCP") =>
  described((one) => (one.orientation === from ? { ...one, orientation: to } : one));

const swapped = described((one) => ({
  ...one,
  orientation: one.orientation === "HCP" ? "VCP" : "HCP",
}));

const FIVE = "five frequencies HCP";
const THREE = "three separations HCP";
const BOTH = "five frequencies HCP, VCP";
const SHOWN = "2 and 4 m, mS/m";

const slips: readonly [InstrumentKind, string, (campaign: Campaign) => Campaign, string][] = [
  [
    FIVE,
    "the two parts of the response",
    described(otherPart),
    "quadrature and in-phase were exchanged",
  ],
  [
    FIVE,
    "the two parts of one frequency",
    exchanged(/^q_.*_25000Hz/, /^i_.*_25000Hz/),
    "the columns of q_180cm_25000Hz_hcp and i_180cm_25000Hz_hcp were exchanged",
  ],
  [
    FIVE,
    "two frequencies",
    exchanged(/^q_.*_10000Hz/, /^q_.*_25000Hz/),
    "the columns of q_180cm_10000Hz_hcp and q_180cm_25000Hz_hcp were exchanged",
  ],
  [
    THREE,
    "two separations",
    exchanged(/^q_130cm/, /^q_370cm/),
    "the columns of q_130cm_12000Hz_hcp and q_370cm_12000Hz_hcp were exchanged",
  ],
  [
    BOTH,
    "VCP that is described as HCP",
    turned("VCP", "HCP"),
    "in walk-2-2031-10.csv the coils declared HCP were VCP",
  ],
  [
    BOTH,
    "HCP that is described as VCP",
    turned("HCP", "VCP"),
    "in walk-1-2031-10.csv the coils declared VCP were HCP",
  ],
  [BOTH, "the two orientations", swapped, "HCP and VCP were exchanged"],
  [FIVE, "the sign of everything", rescaled(() => -1), "all values had the other sign"],
  [SHOWN, "the sign of conductivities", rescaled(() => -1), "all values had the other sign"],
  [
    FIVE,
    "the sign of one channel",
    rescaled((field) => (field.startsWith("q_180cm_10000Hz") ? -1 : 1)),
    "the values of channel q_180cm_10000Hz_hcp had the other sign",
  ],
  [
    FIVE,
    "parts per thousand in one channel",
    rescaled((field) => (field.startsWith("q_180cm_60000Hz") ? 1e-3 : 1)),
    "the values of channel q_180cm_60000Hz_hcp were a thousand times too small",
  ],
];

describe("diagnoseChannels on slips of every kind", () => {
  it.each(slips)("of %s sees %s", (kind, _, slip, text) => {
    const diagnosis = diagnoseChannels(slip(sound(kind)));
    expect(diagnosis.explained[0]?.text).toBe(text);
    expect(diagnosisText(diagnosis)).toMatch(/^no layered ground fits .* as if /);
  });
});
