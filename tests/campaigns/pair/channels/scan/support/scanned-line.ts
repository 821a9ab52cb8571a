import type { GroundScores } from "../../../../../../lib/campaigns/pair/channels/scan/ground-scores.js";
import {
  type ScanOptions,
  StretchScan,
} from "../../../../../../lib/campaigns/pair/channels/scan/stretch-scan.js";
import { seededRandom } from "../../../../../../lib/numerics/random.js";

/** Stations of a line. */
export const N = 300;

interface Line {
  readonly seed: number;
  /** Correlation of neighbours. */
  readonly likeness?: number;
  /** Added to stations 120 to 159. */
  readonly change?: number;
  /** Added to stations 200 to 239. */
  readonly another?: number;
  /** Score that one metre of misplacement makes of the stations 100 to 104. */
  readonly slope?: number;
  /** 0 where the readings see no change of the ground at all; default 1. */
  readonly directions?: 0 | 1;
}

/** One channel and one direction: the score of a station is its residual. */
function scoresOf({ seed, directions = 1, ...line }: Line): GroundScores {
  const { likeness = 0, change = 0, another = 0, slope = 0 } = line;
  const random = seededRandom(seed);
  let noise = random.normal();
  const score = new Float64Array(N + 1);
  for (let i = 0; i < N; i++) {
    noise = likeness * noise + Math.sqrt(1 - likeness ** 2) * random.normal();
    const moved = i >= 100 && i < 105 ? slope : 0;
    const changed = (i >= 120 && i < 160 ? change : 0) + (i >= 200 && i < 240 ? another : 0);
    score[i + 1] = score[i]! + noise + moved + changed;
  }
  const counted = Float64Array.from({ length: N + 1 }, (_, i) => i);
  return {
    n: N,
    k: directions,
    score: directions === 0 ? new Float64Array() : score,
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
/** The scan of a line of noise with what is planted in it. */
export const scanOf = (line: Line, options: Partial<ScanOptions> = {}) =>
  new StretchScan(scoresOf(line), {
    ...SETUP,
    mismatch_m: 0,
    taken: new Uint8Array(N),
    ...options,
  });

export const pOf = (scan: StretchScan) => scan.testedNominee(scan.best()!)!.p;
