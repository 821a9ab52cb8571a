// The built library: sources that a test runs as they are make every call in one thread.
import { afterEach, describe, expect, it } from "vitest";
import type * as Library from "../../../lib/index.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { campaignOf, channelOf } from "../../support/campaign.js";

const built = new URL("../../../dist/lib/index.js", import.meta.url);
const threadsAsked = "BANQUETTE_THREADS";
const interruption = Symbol.for("banquette.interruption");

/** More stations than one thread draws where there are several; some channels have gaps. */
const N = 3000;

function longLine() {
  const random = seededRandom(5);
  const channels = [2000, 9000, 40_000].map((frequency_Hz) => channelOf({ frequency_Hz }));
  const values = channels.map((_, c) =>
    Float64Array.from({ length: N }, (_, i) => {
      const value = [500, 1400, 3200][c]! * (1 + 0.4 * Math.sin(i / 300)) + 10 * random.normal();
      return c === 1 && i % 500 < 40 ? Number.NaN : value;
    }),
  );
  const chainage_m = Float64Array.from({ length: N }, (_, i) => i);
  return campaignOf({ passes: [{ channels, values, chainage_m }] });
}

afterEach(() => {
  delete process.env[threadsAsked];
  Reflect.deleteProperty(globalThis, interruption);
});

describe("the stations of a long line", () => {
  const options = { spacing_m: 1, draws: 30 };

  it("are drawn the same whatever the number of threads, and tell how far they are", async () => {
    const { estimateDepthSlices } = (await import(built.href)) as typeof Library;
    const bytes: string[] = [];
    for (const threads of ["1", "2", "3"]) {
      process.env[threadsAsked] = threads;
      const seen: number[] = [];
      const progress = (done: number, total: number) => seen.push(done / total);
      // A campaign of its own each time: what was drawn of one is kept.
      const { value, cautions } = await estimateDepthSlices(longLine(), { ...options, progress });
      bytes.push(JSON.stringify([value, cautions], (_, one: unknown) => listed(one)));
      expect(seen.length).toBeGreaterThan(5);
      expect(seen).toEqual(seen.toSorted((a, b) => a - b));
      expect(seen.at(-1)).toBe(1);
    }
    expect(bytes[0]!.length).toBeGreaterThan(1e5);
    expect(bytes[1]).toBe(bytes[0]);
    expect(bytes[2]).toBe(bytes[0]);
  });

  it("end with an interrupt, and can be drawn after it", async () => {
    const { estimateDepthSlices } = (await import(built.href)) as typeof Library;
    process.env[threadsAsked] = "2";
    const controller = new AbortController();
    Reflect.set(globalThis, interruption, controller.signal);
    const line = longLine();
    const progress = (done: number) => {
      if (done > 0) controller.abort();
    };
    const ended = estimateDepthSlices(line, { ...options, progress });
    await expect(ended).rejects.toThrow(/interrupted/);
    Reflect.set(globalThis, interruption, new AbortController().signal);
    const after = await estimateDepthSlices(line, options);
    expect(after.value.chainage_m).toHaveLength(N);
  });
});

const listed = (one: unknown) => (ArrayBuffer.isView(one) ? Array.from(one as Float64Array) : one);
