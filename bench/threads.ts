import { fileURLToPath } from "node:url";
import {
  decide,
  interpret,
  invertibleLines,
  invertSection,
  openSurvey,
  shapeUnder,
  tryAlternatives,
  waterBeside,
} from "../lib/index.js";
import { type BenchRow, timedLong } from "./timed.js";

const demo = fileURLToPath(new URL("../../data-demo/sedgeholm", import.meta.url));
const proposed = "a bench tries it";

const decisions = [
  decide("placeReadings.jitter", "smooth", { proposed, alternatives: ["keep"] }),
  decide("maskInterference.threshold", 5, { proposed, alternatives: [7] }),
  decide("segmentBlocks.minLength_m", 40, { proposed, alternatives: [20, 80] }),
  decide("compareCampaigns.q", 0.05, { proposed, alternatives: [0.01, 0.1] }),
  decide("scoreSeepage.startingProbability", 0.03, { proposed, alternatives: [0.01, 0.1] }),
];

/** Long work of the demo with one thread and with two: sections side by side, and alternatives. */
export async function benchThreads(): Promise<readonly BenchRow[]> {
  const survey = await openSurvey(demo);
  const { value } = await interpret(survey, []);
  const sections = () =>
    Promise.all(
      invertibleLines(survey).map((line) =>
        invertSection(line, { shape: shapeUnder(line, survey), water: waterBeside(line, survey) }),
      ),
    );
  const alternatives = () => tryAlternatives({ ...value, decisions });
  return [
    ...(await withThreads("three sections of the demo", sections)),
    ...(await withThreads("eight alternatives of the demo", alternatives)),
  ];
}

async function withThreads(what: string, work: () => unknown): Promise<BenchRow[]> {
  const before = process.env.BANQUETTE_THREADS;
  const rows: BenchRow[] = [];
  for (const threads of [1, 2]) {
    process.env.BANQUETTE_THREADS = String(threads);
    rows.push(await timedLong(`${what}, ${threads} thread${threads > 1 ? "s" : ""}`, work, 1));
  }
  if (before === undefined) delete process.env.BANQUETTE_THREADS;
  else process.env.BANQUETTE_THREADS = before;
  return rows;
}
