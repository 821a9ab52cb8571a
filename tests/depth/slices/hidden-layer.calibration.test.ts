import { describe, expect, it } from "vitest";
import type { DepthSlices } from "../../../lib/depth/depth-slices.js";
import { hiddenLayers_m } from "../../../lib/depth/slices/hidden-layer.js";
import { correctDrift, estimateDepthSlices } from "../../../lib/index.js";
import type { Column } from "../../abroad/ground/columns.js";
import { scoreSlices } from "../../abroad/judged/score.js";
import { makeSurvey } from "../../abroad/survey.js";
import { campaignsOf } from "../../abroad/written/in-memory.js";

const SURVEYS = Number(process.env.HIDDEN_SURVEYS ?? 8);
const FIRST = 120_001;
const INSTRUMENTS = ["three separations HCP+PRP", "frequencies and separations"] as const;

/** Even ground of 14 to 56 ohm-m, log10. */
const hostOf = (seed: number) => 1.15 + 0.6 * ((seed * 0.618034) % 1);

async function estimated(seed: number, column: Column, slices?: DepthSlices["slices"]) {
  const ground = { kind: "even", length_m: 60, boundaries_m: [], columnAt: () => column };
  const instrument = INSTRUMENTS[seed % INSTRUMENTS.length]!;
  const made = makeSurvey({ seed, ground, instrument, errors: "field" });
  const corrected = correctDrift(campaignsOf(made)[0]!);
  const options = { spacing_m: 20, ...(slices && { slices }) };
  const { value } = await estimateDepthSlices(corrected, options);
  return { value, held: scoreSlices(value, made.truth).map((slice) => slice.held) };
}

/** Shares of the truths of one reliable slice, without the layer and with it in the middle. */
async function held(seed: number) {
  const host = hostOf(seed);
  const even = await estimated(seed, { top_m: [0], log10: [host] });
  const { slices } = even.value;
  const hidden = hiddenLayers_m(even.value);
  const told = [...slices.keys()].filter((k) => slices[k]!.reliable && hidden[k] !== null);
  const k = told[seed % told.length]!;
  const middle_m = (slices[k]!.top_m + slices[k]!.base_m) / 2;
  const half_m = hidden[k]! / 2;
  const column = {
    top_m: [0, middle_m - half_m, middle_m + half_m],
    log10: [host, host + 1, host],
  };
  return { without: even.held[k]!, with: (await estimated(seed, column, slices)).held[k]! };
}

describe("the thickness of a hidden layer", () => {
  // A survey's errors are one draw: deviations of a mean over 8 surveys are 0.18 at the most.
  it("leaves less than half of the truths in intervals that hold even ground", async () => {
    const all: Awaited<ReturnType<typeof held>>[] = [];
    for (let s = 0; s < SURVEYS; s++) all.push(await held(FIRST + s));
    const mean = (of: (one: (typeof all)[number]) => number) =>
      all.reduce((sum, one) => sum + of(one) / all.length, 0);
    const told = `${mean((one) => one.without)} without, ${mean((one) => one.with)} with a layer`;
    expect(
      mean((one) => one.without),
      told,
    ).toBeGreaterThan(0.8);
    expect(
      mean((one) => one.with),
      told,
    ).toBeLessThan(0.5);
  });
});
