import type { Findings } from "../../../lib/chain/findings.js";

const slices = (median: number) => [
  { top_m: 0, base_m: 1, median, p10: 0.9 * median, p90: 1.1 * median },
];

/** What an invented bank of 300 m came to, with something of every kind. */
export function madeFindings(more: Partial<Findings> = {}): Findings {
  const block = (id: string, from_m: number, to_m: number, median: number) => ({
    ...{ id, from_m, to_m, class: median < 50 ? "A" : "B", readings: 60, masked_pct: 0 },
    fromInterval_m: [from_m - 2, from_m + 2],
    toInterval_m: [to_m - 2, to_m + 2],
    resistivity_ohm_m: slices(median),
  });
  const metal = { from_m: 40, to_m: 52, readings: 9, channels: ["q"] };
  return {
    survey: { name: "made", embankment: "Made Bank", length_m: 300, campaigns: ["one", "two"] },
    ...{ drift: [], unexplained: [], silentNotes: [], depth: [], cautions: [], decisions: [] },
    blocks: [block("B1", 0, 120, 30), block("B2", 120, 300, 80)],
    setAside: [
      { ...metal, campaign: "one", cause: "both", object: "gate" },
      { ...metal, campaign: "two", cause: "detected", object: "" },
    ],
    changes: [
      {
        ...{ from_m: 200, to_m: 240, earlier: "one", later: "two", direction: "fell" },
        ...{ ratio: 0.8, ratioInterval: [0.75, 0.85], q: 0.001, slices: ["0.0–1.0"] },
      },
    ],
    sections: [
      { line: "R1", readings: 100, rejected: 2, rms: 1, iterations: 4, reliableTo_m: 3 },
      { line: "R1", readings: 90, rejected: 0, rms: 1, iterations: 4, reliableTo_m: 3 },
    ],
    seepage: [
      {
        ...{ rank: 1, from_m: 190, to_m: 250, score: 2, probability: 0.7, band: "moderate" },
        evidence: [
          { name: "recorded incident", weight: 1.6, value: 0.5, statement: "Recorded: sand boil." },
          { name: "thin blanket at the toe", weight: 0, value: null, statement: "Not known." },
        ],
      },
    ],
    boreholes: [
      {
        ...{ id: "P1", chainage_m: 220, offset_m: 0, depth_m: 7, priority: 1 },
        ...{ purpose: "zone 1", reason: "No borehole is near.", lostUnder: ["holes = 0"] },
      },
    ],
    robustness: [
      {
        ...{ decision: "segmentBlocks.minLength_m", chosen: "40", alternative: "80" },
        effect: "Blocks: 1 block instead of 2. First seepage zones: none, instead of 190–250 m.",
      },
    ],
    ...more,
  } as unknown as Findings;
}
