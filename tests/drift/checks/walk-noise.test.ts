import { describe, expect, it } from "vitest";
import { walkNoise } from "../../../lib/drift/checks/walk-noise.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { channelOf, passOf } from "../../support/campaign.js";
import { expectClose } from "../../support/expect-close.js";

const fields = ["q_1", "q_2", "q_3"];
const levels = [300, 600, 900];

/** Readings of three channels of noise 8 over ground that changes by `rough` % from step to step. */
function walked(seed: number, rough: number, shared = 0) {
  const random = seededRandom(seed);
  let ground = 0;
  const rows = Array.from({ length: 900 }, () => {
    ground = 0.95 * ground + 0.01 * rough * random.normal();
    const common = shared * random.normal();
    return levels.map((value) => value * Math.exp(ground) + common + 8 * random.normal());
  });
  return passOf({
    channels: fields.map((field) => channelOf({ field })),
    chainage_m: rows.map((_, i) => i),
    values: fields.map((_, c) => rows.map((row) => row[c]!)),
  });
}

describe("the noise of a walk", () => {
  it("is that of the readings over even ground", () => {
    const noise = walkNoise([walked(1, 0)]);
    for (const [c, field] of fields.entries()) {
      expectClose(noise(field, levels[c]!), 8, { relative: 0.15 });
    }
  });

  it("does not take rough ground for noise, as it is the same in several channels", () => {
    const noise = walkNoise([walked(2, 6)]);
    // What a channel is told by two others of like noise holds their noise too.
    for (const [c, field] of fields.entries()) {
      expect(noise(field, levels[c]!)).toBeGreaterThan(7);
      expect(noise(field, levels[c]!)).toBeLessThan(14);
    }
  });

  it("keeps noise that all channels share", () => {
    const noise = walkNoise([walked(3, 0, 20)]);
    for (const [c, field] of fields.entries()) {
      expect(noise(field, levels[c]!)).toBeGreaterThan(0.7 * Math.hypot(8, 20));
    }
  });

  it("is not known of readings that do not scatter, of few, and of no channel", () => {
    const even = passOf({
      channels: [channelOf({ field: "q_1" })],
      chainage_m: Array.from({ length: 200 }, (_, i) => i),
      values: [new Float64Array(200).fill(500)],
    });
    expect(walkNoise([even])("q_1", 500)).toBeNaN();
    expect(walkNoise([walked(4, 0)])("other", 500)).toBeNaN();
  });
});
