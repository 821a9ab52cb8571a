import { describe, expect, it } from "vitest";
import type { GroundScores } from "../../../../../lib/campaigns/pair/channels/scan/ground-scores.js";
import { StretchScan } from "../../../../../lib/campaigns/pair/channels/scan/stretch-scan.js";
import { seededRandom } from "../../../../../lib/numerics/random.js";

const N = 300;

interface Line {
  readonly seed: number;
  /** Correlation of neighbours. */
  readonly likeness?: number;
  /** Added to stations 120 to 159. */
  readonly change?: number;
  /** Score that one metre of misplacement makes of the stations 100 to 104. */
  readonly slope?: number;
}

/** One channel and one direction: the score of a station is its residual. */
function scoresOf({ seed, likeness = 0, change = 0, slope = 0 }: Line): GroundScores {
  const random = seededRandom(seed);
  let noise = random.normal();
  const score = new Float64Array(N + 1);
  for (let i = 0; i < N; i++) {
    noise = likeness * noise + Math.sqrt(1 - likeness ** 2) * random.normal();
    const moved = i >= 100 && i < 105 ? slope : 0;
    score[i + 1] = score[i]! + noise + moved + (i >= 120 && i < 160 ? change : 0);
  }
  const counted = Float64Array.from({ length: N + 1 }, (_, i) => i);
  return {
    n: N,
    k: 1,
    score,
    information: counted,
    q: 1,
    removed: new Float64Array(N + 1),
    offsetError: new Float64Array(N + 1),
    height: new Float64Array(N + 1),
    season: new Float64Array(N + 1),
    weight: counted,
    slope: Float64Array.from({ length: N }, (_, i) => (i >= 100 && i < 105 ? slope : 0)),
    shiftSd_m: new Float64Array(N + 1),
  };
}

const SETUP = { least: 6, changed: new Uint8Array(N), offsetError: 0.1, height_m: 0 };
const scanOf = (line: Line, taken = new Uint8Array(N), mismatch_m = 0) =>
  new StretchScan(scoresOf(line), { ...SETUP, mismatch_m, taken });

const pOf = (scan: StretchScan) => scan.testedNominee(scan.best()!)!.p;

describe("the scan of a line", () => {
  it("finds a change and its ends, the more surely the longer the stretch", () => {
    const scan = scanOf({ seed: 3, change: 2 });
    const best = scan.best()!;
    expect(pOf(scan)).toBeLessThan(1e-6);
    expect(Math.abs(best.first - 120)).toBeLessThanOrEqual(2);
    expect(Math.abs(best.last - 159)).toBeLessThanOrEqual(2);
  });

  it("measures how noise grows with length where neighbours are alike", () => {
    expect(scanOf({ seed: 4 }).inflationAt(20)).toBeLessThan(1.7);
    // (1 + 0.8) / (1 − 0.8) = 9 for long means, less for short ones.
    const alike = scanOf({ seed: 4, likeness: 0.8 }).inflationAt(20);
    expect(alike).toBeGreaterThan(4);
    expect(alike).toBeLessThan(15);
  });

  it("does not look where a change has been found", () => {
    const taken = new Uint8Array(N).fill(1, 110, 170);
    const best = scanOf({ seed: 3, change: 2 }, taken).best()!;
    expect(best.last < 110 || best.first >= 170).toBe(true);
  });

  it("counts a misplacement over a boundary as noise", () => {
    const blind = scanOf({ seed: 5, slope: 4 });
    const placed = scanOf({ seed: 5, slope: 4 }, new Uint8Array(N), 1);
    expect(pOf(blind)).toBeLessThan(0.01);
    expect(pOf(placed)).toBeGreaterThan(0.05);
  });
});
