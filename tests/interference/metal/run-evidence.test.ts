import { describe, expect, it } from "vitest";
import { runEvidence } from "../../../lib/interference/metal/run-evidence.js";
import type { ScoredProfile } from "../../../lib/interference/metal/score-profile.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { channelOf } from "../../support/campaign.js";

const channels = [channelOf(), channelOf({ kind: "inphase" })];

/** A line of readings whose two channels are so many noises off, together. */
function scored(size: (i: number) => number, spacing_m = 1): ScoredProfile {
  const random = seededRandom(5);
  const n = 120;
  const own = Float64Array.from({ length: n }, (_, i) => size(i));
  const whitened = Array.from(own, (one) =>
    Float64Array.of(one + 0.5 * random.normal(), one + 0.5 * random.normal()),
  );
  const column = (c: number) => Float64Array.from(whitened, (one) => one[c]!);
  return {
    profile: {
      channels,
      chainage_m: Float64Array.from(own, (_, i) => i * spacing_m),
      offset_m: new Float64Array(n),
    },
    anomalies: whitened.map((one) => ({ whitened: one })),
    ...{
      anomaly: [column(0), column(1)],
      residual: [column(0), column(1)],
      score: own.map(Math.abs),
    },
  } as unknown as ScoredProfile;
}

const jumpsIn = (line: ScoredProfile, first: number, last: number) =>
  runEvidence(line, { first, last }).jumps ?? false;

describe("runEvidence", () => {
  it("tells readings that jump one by one, a single one or many in a row", () => {
    const random = seededRandom(6);
    const burst = Array.from({ length: 120 }, () => 20 * random.normal());
    expect(
      jumpsIn(
        scored((i) => (i === 50 ? 8 : 0)),
        49,
        51,
      ),
    ).toBe(true);
    expect(
      jumpsIn(
        scored((i) => (i >= 40 && i < 80 ? burst[i]! : 0)),
        40,
        79,
      ),
    ).toBe(true);
  });

  it("does not say so where neighbours go on, swing back, or lie too far apart", () => {
    const hump = (i: number) => 8 * Math.exp(-(((i - 50) / 1.5) ** 2));
    expect(jumpsIn(scored(hump), 48, 52)).toBe(false);
    const swing = (i: number) => [-4, 8, -4][i - 49] ?? 0;
    expect(jumpsIn(scored(swing), 49, 51)).toBe(false);
    expect(
      jumpsIn(
        scored((i) => (i === 50 ? 8 : 0), 3),
        49,
        51,
      ),
    ).toBe(false);
  });

  it("nor of few readings that go further than noise does", () => {
    expect(
      jumpsIn(
        scored((i) => (i === 50 ? 25 : 0)),
        49,
        51,
      ),
    ).toBe(false);
  });
});
