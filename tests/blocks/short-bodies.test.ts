import { describe, expect, it } from "vitest";
import { segmentBlocks } from "../../lib/blocks/segment-blocks.js";
import { shortBodies } from "../../lib/blocks/short-bodies.js";
import { makeDepthSlices } from "../support/depth-slices.js";
import { expectClose } from "../support/expect-close.js";

/** Six times more resistive from 300 m on, over some metres, on 800 m. */
const gravel = (length_m: number) => (x: number) =>
  x >= 300 && x < 300 + length_m ? 1.2 + Math.log10(6) : 1.2;

const bodiesOf = (maker: Parameters<typeof makeDepthSlices>[0]) => {
  const { value, cautions } = segmentBlocks(makeDepthSlices(maker));
  const said = cautions.filter(({ text }) =>
    text.startsWith("Ground that differs from both sides"),
  );
  return { bodies: value.shortBodies ?? [], blocks: value.blocks, said };
};

const withoutCut = (maker: Parameters<typeof makeDepthSlices>[0]) =>
  shortBodies(makeDepthSlices(maker), { breaks: [], minLength_m: 40 });

describe("bodies shorter than the shortest block", () => {
  it("are named where they stand, with how much they differ", () => {
    for (const length_m of [12, 20, 28]) {
      for (const seed of [1, 2, 3, 4]) {
        const bodies = withoutCut({ seed, truth: gravel(length_m) });
        expect(bodies).toHaveLength(1);
        expectClose(bodies[0]!.from_m, 300, { absolute: 3 });
        expectClose(bodies[0]!.to_m, 300 + length_m, { absolute: 5 });
        expectClose(bodies[0]!.ratio, 6, { relative: 0.25 });
      }
    }
    const { bodies, said } = bodiesOf({ truth: gravel(20) });
    expect(bodies).toHaveLength(1);
    expect(said[0]!.text).toMatch(
      /shortest block asked for \(40 m\), stands at (29|30)\d–3[12]\d m \(\d\.\d times more/,
    );
  });

  it("are told over a gap, and whichever way they differ", () => {
    const truth = (x: number) => 3 - gravel(24)(x);
    const [body] = withoutCut({ truth, gaps_m: [[310, 316]] });
    expectClose(body!.ratio, 1 / 6, { relative: 0.25 });
  });

  it("are not blocks, joints of some metres, or texture", () => {
    expect(bodiesOf({ truth: gravel(60) }).bodies).toEqual([]);
    const joint = (x: number) => 1.2 + Math.min(1, Math.max(0, (x - 380) / 24));
    expect(bodiesOf({ truth: joint }).bodies).toEqual([]);
    const seeds = Array.from({ length: 20 }, (_, i) => 401 + i);
    const seen = [0.05, 0.1, 0.15].flatMap((texture) =>
      seeds.flatMap((seed) => withoutCut({ seed, texture, correlation_m: 12 })),
    );
    expect(seen.length).toBeLessThanOrEqual(1);
  });
});
