// Findings of a small survey with one entry in every list, and a field note that means harm.
import type { Findings } from "../../../lib/chain/findings.js";
import type { Work } from "../../../lib/chain/work.js";
import type { Campaign, Survey } from "../../../lib/survey/survey.js";
import { campaignOf, channelOf } from "../../support/campaign.js";
import { smallSurvey } from "../../support/small-survey.js";

export const hostile = `=HYPERLINK("http://x.example";"y")'); DROP TABLE blocks; --<script>`;

export const smallFindings: Findings = {
  survey: { name: "small", embankment: "Sedgeholm Bank", length_m: 800, campaigns: ["2031-10"] },
  drift: [],
  setAside: [
    {
      campaign: "2031-10",
      from_m: 100,
      to_m: 100,
      cause: "both",
      object: hostile,
      channels: ["q_4800_hcp"],
      readings: 1,
    },
  ],
  unexplained: [],
  silentNotes: [],
  depth: { slices: [{ top_m: 0, base_m: 1 }], independentLevels: 2, reliableTo_m: 3, misfit: 1 },
  blocks: [block("B1", 0, 300), block("B2", 300, 800)],
  changes: [
    {
      from_m: 200,
      to_m: 260,
      earlier: "2031-10",
      later: "2032-03",
      direction: "fell",
      ratio: 0.7,
      q: 0.01,
      slices: ["0.0–1.0"],
    },
  ],
  sections: [{ line: "R2", readings: 40, rejected: 2, rms: 1.1, iterations: 4, reliableTo_m: 5 }],
  seepage: [
    {
      rank: 1,
      from_m: 250,
      to_m: 290,
      score: 1.2,
      probability: 0.3,
      band: "moderate",
      rankRange: [1, 1],
      bandKept: 0.9,
      evidence: [
        {
          ...{ name: "pervious under cover", weight: 1, value: 0.8 },
          ...{ statement: "sand below", source: "crest walk" },
        },
      ],
      exitGradient: null,
      gradientWhy: "not told apart",
      hydraulics: null,
    },
  ],
  boreholes: [
    {
      id: "N1",
      chainage_m: 270,
      offset_m: -8,
      depth_m: 6,
      purpose: "blanket",
      reason: "thin",
      priority: 1,
    },
  ],
  robustness: [],
  cautions: [],
  decisions: [],
};

function block(id: string, from_m: number, to_m: number): Findings["blocks"][number] {
  return {
    id,
    from_m,
    to_m,
    fromInterval_m: [from_m - 5, from_m + 5],
    toInterval_m: [to_m - 5, to_m + 5],
    class: id === "B1" ? "A" : "B",
    resistivity_ohm_m: [{ top_m: 0, base_m: 1, median: 30, p10: 25, p90: 36 }],
    masked_pct: 0,
    readings: 10,
  };
}

/** Three readings: in use, set aside, and without a position. Channels with awkward names. */
export const smallCampaign: Campaign = campaignOf({
  passes: [
    {
      channels: [channelOf({ field: "Row" }), channelOf({ field: 'odd "name"', kind: "inphase" })],
      values: [
        [1.5, 2.5, Number.NaN],
        [10, 20, 30],
      ],
      chainage_m: [0, 100, 800],
      setAside: [
        [0, 1, 0],
        [0, 1, 0],
      ],
    },
  ],
  causes: [{ kind: "both", text: hostile }],
});

const electrodes = [0, 2, 4].map((x_m, i) => ({ electrode: i + 1, x_m, elevation_m: 6 }));

/** A bend at 400 m; one line along, one across. */
export function smallWork(sketch: Partial<Survey> = {}): Work {
  const survey = smallSurvey({
    centreline: {
      easting_m: Float64Array.of(500_000, 500_400, 500_400),
      northing_m: Float64Array.of(5_800_000, 5_800_000, 5_800_400),
      chainage_m: Float64Array.of(0, 400, 800),
      epsg: 32631,
    },
    campaigns: [smallCampaign],
    resistivityLines: [
      { line: "R1", runs: "along", chainage_m: 100, offset_m: 1, electrodes, readings: [] },
      { line: "R2", runs: "across", chainage_m: 200, offset_m: -2, electrodes, readings: [] },
    ],
    ...sketch,
  });
  const work = { survey: { value: survey }, masked: [{ value: smallCampaign }] };
  return work as unknown as Work;
}
