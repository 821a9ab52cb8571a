// Five invented campaigns of one bank, through the whole chain: what dries goes one way, what the
// river wets follows its level, and nothing else is said of the rest.
import { beforeAll, describe, expect, it } from "vitest";
import { type Interpretation, interpret } from "../../lib/chain/interpret.js";
import { provenanceOf } from "../../lib/handover/provenance.js";
import { seededRandom } from "../../lib/numerics/random.js";
import { decide } from "../../lib/step/decision.js";
import type { StepResult } from "../../lib/step/step-result.js";
import type { Campaign, Survey, WaterLevel } from "../../lib/survey/survey.js";
import { expectDraws, expectValidSpec } from "../figures/support/check-spec.js";
import { smallSurvey } from "../support/small-survey.js";
import { walked } from "../support/walked.js";
import { overlap } from "./demo.js";
import { opened } from "./support/one-campaign.js";

const LENGTH_M = 480;
const HALF_YEAR_S = 182.625 * 86400;
const LABELS = ["2031-10", "2032-04", "2032-10", "2033-04", "2033-10"];
/** Levels in no order of time, so that what follows the river is no trend. */
const RIVER_M = [3.1, 4.6, 2.8, 4.9, 3.4];
/** Dries by 14 % of conductivity a campaign, 48 % over all. */
const DRYING = { from_m: 120, to_m: 170 };
/** Conducts 19 % more for each metre of the river. */
const WETTED = { from_m: 300, to_m: 350 };
const within = (x: number, stretch: typeof DRYING) => x >= stretch.from_m && x <= stretch.to_m;

/** log10 S/m of the upper metre and a half along the line: texture about one level. */
function texture(): (x: number) => number {
  const random = seededRandom(41);
  let value = random.normal();
  const row = Float64Array.from({ length: LENGTH_M + 2 }, () => {
    value = 0.95 * value + Math.sqrt(1 - 0.95 ** 2) * random.normal();
    return value;
  });
  return (x) => {
    const i = Math.floor(x);
    return 0.06 * (row[i]! + (x - i) * (row[i + 1]! - row[i]!));
  };
}

function campaignsOf(): readonly Campaign[] {
  const grain = texture();
  return LABELS.map((label, c) => {
    const groundAt = (x: number) => {
      const drier = within(x, DRYING) ? -0.065 * c : 0;
      const wetter = within(x, WETTED) ? 0.075 * (RIVER_M[c]! - RIVER_M[0]!) : 0;
      const upper = 10 ** (-1.5 + grain(x) + drier + wetter);
      return { thickness_m: [1.5], conductivity_S_per_m: [upper, 0.02] };
    };
    const campaign = walked({ groundAt, length_m: LENGTH_M, noise: 0.7, seed: 60 + c, label });
    const later = (time_s: Float64Array) => time_s.map((t) => t + c * HALF_YEAR_S);
    const passes = campaign.passes.map((pass) => ({ ...pass, time_s: later(pass.time_s) }));
    return { ...campaign, passes };
  });
}

function surveyOf(): Survey {
  const campaigns = campaignsOf();
  const waterLevels = campaigns.map(
    ({ passes }, c): WaterLevel => ({
      time_s: passes[0]!.time_s[0]!,
      point: "river",
      level_m: RIVER_M[c]!,
      chainage_m: null,
    }),
  );
  const strata = [
    { top_m: 0, base_m: 1.5, soil: "siCl", description: "" },
    { top_m: 1.5, base_m: 5, soil: "Sa", description: "" },
  ];
  const hole = { borehole: "BH1", chainage_m: 60, offset_m: 0, elevation_m: 6.2, depth_m: 5 };
  const boreholes = [{ ...hole, strata, laboratory: [] }];
  return smallSurvey({ campaigns, waterLevels, boreholes, length_m: LENGTH_M });
}

const because = "a test tries it";
const decisions = [
  decide("trendOverCampaigns.q", 0.05, { because, alternatives: [0.05, 1e-9] }),
  decide("responseToHead.q", 0.05, { because, alternatives: [0.05, 1e-9] }),
];
const survey = opened(surveyOf());
let result: StepResult<Interpretation>;
beforeAll(async () => {
  result = await interpret(survey, decisions);
}, 400_000);

describe("interpret on five campaigns", () => {
  it("finds the one stretch that dries, which way and how fast", () => {
    const { trends, campaigns } = result.value.trend!.value;
    expect(campaigns).toEqual(LABELS);
    expect(trends).toHaveLength(1);
    expect(overlap(trends[0]!, DRYING)).toBeGreaterThanOrEqual(0.6);
    expect(trends[0]!.direction).toBe("rises");
    // Two campaigns a year: 10^0.13. The estimate shows most of it, never more than it and noise.
    const [lo, hi] = trends[0]!.ratioPerYearInterval;
    expect(lo).toBeGreaterThan(1.15);
    expect(hi).toBeLessThan(1.45);
  });

  it("finds what follows the river and by how much, and asks nothing of the rest", () => {
    const { stretches, point } = result.value.head!.value;
    expect(point).toBe("river");
    const responding = stretches.filter(({ responds }) => responds);
    expect(responding.length).toBeGreaterThan(0);
    for (const one of responding) {
      expect(one.from_m < WETTED.to_m && one.to_m > WETTED.from_m, `${one.from_m}`).toBe(true);
      expect(one.bySlice[one.strongest]!.ratioPerMetre).toBeLessThan(1);
    }
  });

  it("draws a map campaign by campaign", async () => {
    const { figures } = result.value.trend!;
    expect(figures.length).toBeGreaterThan(0);
    for (const { spec } of [...figures, ...result.value.head!.figures]) {
      expectValidSpec(spec);
      await expectDraws(spec);
    }
  });

  it("puts what the boreholes met beside the class that they stand in", () => {
    const table = result.value.blocks.tables.find(({ id }) => id.startsWith("block-classes"))!;
    const met = table.rows.filter((row) => row.boreholes === "BH1");
    expect(met).toHaveLength(1);
    expect(met[0]!.strata).toMatch(/siCl \d+ %/);
  });

  it("names boreholes by name, and every step, in the provenance", () => {
    const { steps, seeds } = provenanceOf(result.value);
    const names = steps.map(({ step }) => step);
    for (const step of ["compareInterference", "trendOverCampaigns", "responseToHead"]) {
      expect(names.filter((name) => name === step)).toHaveLength(1);
    }
    const blocks = steps.find(({ step }) => step === "segmentBlocks")!;
    expect(blocks.used.boreholes).toEqual(["BH1"]);
    expect(seeds).toHaveProperty("trendOverCampaigns");
  });

  it("varies the decisions on them", () => {
    const effects = result.value.findings.robustness.map(({ effect }) => effect);
    expect(effects).toHaveLength(4);
    expect([effects[0], effects[2]].every((text) => text!.startsWith("Nothing changes"))).toBe(
      true,
    );
    expect(effects[1]).toMatch(/^Trend: no stretch, instead of \d+/);
    expect(effects[3]).toMatch(/^Response to the water: no stretch, instead of \d+/);
  });

  it("takes fewer campaigns each with the next alone", async () => {
    const two = { ...survey.value, campaigns: survey.value.campaigns.slice(0, 2) };
    const { value } = await interpret(opened(two), []);
    expect([value.trend, value.head]).toEqual([undefined, undefined]);
    expect(value.across).toBeDefined();
  });

  it("has no response without levels, and takes a piezometer where nobody read the river", async () => {
    const three = survey.value.campaigns.slice(0, 3);
    const dry = { ...survey.value, campaigns: three, waterLevels: [] };
    expect((await interpret(opened(dry), [])).value.head).toBeUndefined();
    const waterLevels = survey.value.waterLevels.map((one) => ({ ...one, point: "P1" }));
    const piped = await interpret(opened({ ...survey.value, campaigns: three, waterLevels }), []);
    expect(piped.value.head!.value.point).toBe("P1");
    expect(piped.value.trend!.value.trends).toEqual([]);
    expect(piped.value.findings.cautions.map(({ step }) => step)).toContain("trendOverCampaigns");
  });
});
