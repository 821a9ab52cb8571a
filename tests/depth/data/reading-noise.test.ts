import { describe, it } from "vitest";
import { readingNoise } from "../../../lib/depth/data/reading-noise.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { campaignOf, channelOf } from "../../support/campaign.js";
import { expectClose } from "../../support/expect-close.js";

const COUNT = 2000;

/** Channels with noise of their own over a texture that all share, by its factor in each. */
function pass(noise: readonly number[], texture: readonly number[]) {
  const random = seededRandom(8);
  const rows = noise.map(() => new Array<number>(COUNT));
  for (let i = 0; i < COUNT; i++) {
    const shared = random.normal();
    for (const [c, row] of rows.entries()) {
      row[i] = 500 + i + texture[c]! * shared + noise[c]! * random.normal();
    }
  }
  const channels = noise.map((_, c) => channelOf({ field: `c${c}` }));
  const chainage_m = rows[0]!.map((_, i) => i);
  return campaignOf({ passes: [{ channels, values: rows, chainage_m }] }).passes[0]!;
}

describe("readingNoise", () => {
  it("is the scatter of readings about a straight line of neighbours", () => {
    const found = readingNoise(pass([4, 9, 2], [0, 0, 0])).own;
    // 2000 second differences, neighbours of them correlated: a standard error of about 3 %.
    for (const [c, sd] of [4, 9, 2].entries()) expectClose(found[c]!, sd, { relative: 0.1 });
  });

  it("leaves out what the channels share, as far as their noise lets it be seen", () => {
    const found = readingNoise(pass([4, 9, 2, 3], [60, 40, 50, 55])).own;
    for (const [c, sd] of [4, 9, 2, 3].entries()) {
      // What the others predict of the texture is off by their own noise.
      expectClose(found[c]!, sd, { relative: 0.75 });
    }
  });

  it("is 0 where too few readings stand side by side", () => {
    const few = pass([4], [0]);
    const setAside = [few.setAside[0]!.map((_, i) => (i > 4 ? 1 : 0))];
    expectClose(readingNoise({ ...few, setAside }).own[0]!, 0, { absolute: 1e-12 });
  });
});
