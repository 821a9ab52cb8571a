// Short bodies ten times as conductive as the bank around them, edges over a few metres, no metal.
import { describe, expect, it } from "vitest";
import { correctDrift } from "../../../lib/drift/correct-drift.js";
import { maskInterference } from "../../../lib/interference/mask-interference.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import {
  campaignsOf,
  type Ground,
  INSTRUMENT_KINDS,
  type InstrumentKind,
  makeSurvey,
} from "../../abroad/index.js";

const PLUGS = Number(process.env.PLUGS ?? 4);
const AT_M = 200;

/** 10 to 25 m of 5 to 8 ohm-m between 0.2 to 0.6 and 3 to 5 m, in 60 over 125 ohm-m. */
function plugOf(seed: number): Ground {
  const random = seededRandom(seed);
  const between = (low: number, high: number) => low + (high - low) * random.uniform();
  const length_m = between(10, 25);
  const edge_m = between(1, 4);
  const inside = Math.log10(between(5, 8));
  const [top_m, base_m] = [between(0.2, 0.6), between(3, 5)];
  const [upper, lower] = [Math.log10(60), Math.log10(125)];
  const columnAt = (x: number) => {
    const out_m = Math.abs(x - AT_M) - length_m / 2;
    const share = 1 / (1 + Math.exp((4 * out_m) / edge_m));
    const grain = 0.02 * Math.sin(x / 7 + seed) + 0.02 * Math.sin(x / 2.3);
    const toPlug = (level: number) => level + share * (inside - level) + grain;
    const log10 = [upper + grain, toPlug(upper), toPlug(lower), lower + grain];
    return { top_m: [0, top_m, 2, base_m], log10 };
  };
  return { kind: "plug", length_m: 2 * AT_M, boundaries_m: [], columnAt };
}

/** Whether the plug's middle is set aside. */
function isTaken(seed: number, instrument: InstrumentKind): boolean {
  const ground = plugOf(seed);
  const [campaign] = campaignsOf(makeSurvey({ seed, ground, instrument, errors: "field" }));
  const { interference } = maskInterference(correctDrift(campaign!)).value;
  return interference.some(({ from_m, to_m }) => from_m < AT_M && to_m > AT_M);
}

describe("a conductive plug", () => {
  const seeds = Array.from({ length: PLUGS }, (_, k) => 162_001 + k);

  it.each(INSTRUMENT_KINDS)("is not taken for metal by %s", (instrument) => {
    const taken = seeds.filter((seed) => isTaken(seed, instrument));
    // Of 32 plugs under five frequencies at one separation 4 lose their middle (31 did), 0 of others.
    const expected = instrument.startsWith("five frequencies") ? PLUGS / 8 : 0;
    expect(taken.length).toBeLessThanOrEqual(Math.ceil(expected + 2 * Math.sqrt(expected)));
  });
});
