// What the data cannot answer is said on the first screen: each link's own sentences.
import { describe, expect, it } from "vitest";
import { unanswered } from "../../../lib/chain/gather.js";
import { compareLink } from "../../../lib/chain/links/campaigns.js";
import { depthLink } from "../../../lib/chain/links/depth.js";
import { driftLink } from "../../../lib/chain/links/drift.js";
import { otherLinesLink } from "../../../lib/chain/links/other-lines.js";
import type { Work } from "../../../lib/chain/work.js";
import { campaignsOf, makeSurvey } from "../../abroad/index.js";
import { makeDepthSlices } from "../../support/depth-slices.js";
import {
  described,
  metalEverywhere,
  otherPart,
} from "../../survey/consistency/spoiled-campaigns.js";

const work = (part: object) => part as unknown as Work;
const texts = (link: typeof depthLink, part: object) =>
  unanswered([link], work(part)).map(({ text }) => text);

describe("what the data do not answer", () => {
  const slices = (maker: Parameters<typeof makeDepthSlices>[0], rms: number) => ({
    slices: [{ value: { ...makeDepthSlices({ campaign: "2031-10", ...maker }), rms } }],
  });

  it("is nothing where slices are reliable and fit", () => {
    expect(texts(depthLink, slices({}, 1.1))).toEqual([]);
  });

  it("is resistivity where no slice is reliable, and where no ground explains the readings", () => {
    const both = texts(depthLink, slices({ reliable: 0 }, 2.6));
    expect(both).toHaveLength(2);
    expect(both[0]).toMatch(/^2031-10: resistivity is known reliably at no depth\./);
    expect(both[1]).toContain("(misfit 2.6 times their noise)");
  });

  it("is the slip in the instrument's description where one explains the misfit", () => {
    const made = makeSurvey({
      ...{ seed: 4712, ground: "blocks", errors: "noise", length_m: 60 },
      instrument: "five frequencies HCP",
    });
    const masked = campaignsOf(made).map((campaign) => ({ value: described(otherPart)(campaign) }));
    const [text] = texts(depthLink, { ...slices({}, 18.2), masked });
    expect(text).toContain("(misfit 18.2 times their noise)");
    expect(text).toContain("as if quadrature and in-phase were exchanged");
  });

  it("looks like metal along the whole line where readings jump everywhere", () => {
    const made = makeSurvey({
      ...{ seed: 4713, ground: "blocks", errors: "noise", length_m: 60 },
      instrument: "five frequencies HCP",
    });
    const quiet = campaignsOf(made).map((value) => ({ value }));
    const masked = quiet.map(({ value }) => ({ value: metalEverywhere(1)(value) }));
    const [text] = texts(depthLink, { ...slices({ reliable: 0 }, 1.1), masked });
    expect(text).toMatch(
      /Readings jump by \d+ % of themselves .* as beside metal along the whole line/,
    );
    const [of_quiet] = texts(depthLink, { ...slices({ reliable: 0 }, 1.1), masked: quiet });
    expect(of_quiet).not.toContain("metal");
  });

  it("is drift without base checks", () => {
    const campaign = (baseChecks: readonly unknown[]) => ({
      drift: [{ value: { label: "2031-10", baseChecks } }],
    });
    expect(texts(driftLink, campaign([]))[0]).toMatch(/^2031-10: without base checks drift/);
    expect(texts(driftLink, campaign([{}]))).toEqual([]);
  });

  it("is change where most of the line cannot be compared", () => {
    const changes = (to_m: number) => ({
      changes: [
        {
          value: {
            earlier: "2031-10",
            later: "2032-04",
            unknown: [{ from_m: 0, to_m }],
            chainage_m: Float64Array.of(0, 50, 100),
          },
        },
      ],
    });
    expect(texts(compareLink, changes(60))).toEqual([
      "2031-10 to 2032-04: change is unknown on 60 % of the line, which is not the same as none.",
    ]);
    expect(texts(compareLink, changes(40))).toEqual([]);
  });

  it("is change that the channels do not tell from coils, do not explain, or would not show", () => {
    const compared = (more: object) => {
      const names = { earlier: "2031-10", later: "2032-04" };
      const value = { ...names, unknown: [], chainage_m: Float64Array.of(0, 400), ...more };
      return texts(compareLink, { changes: [{ value }] });
    };
    const place = { from_m: 100, to_m: 180 };
    expect(compared({ offsets: [{ ...place, kind: "height", height_m: 0.1 }] })).toEqual([]);
    expect(
      compared({ offsets: [{ ...place, kind: "height", height_m: 0.1, orGround: true }] })[0],
    ).toMatch(/^2031-10 to 2032-04: at 100–180 m the ground changed or the coils/);
    expect(compared({ unexplained: [{ ...place, q: 1e-9 }] })[0]).toMatch(
      /at 100–180 m the campaigns differ as neither ground nor coils/,
    );
    const slice = { top_m: 0, base_m: 1, length_m: 80, rose: null };
    expect(compared({ detectable: [{ ...slice, fell: 0.8 }] })).toEqual([]);
    expect(compared({ detectable: [{ ...slice, fell: 0.6 }] })[0]).toMatch(
      /over 80 m the resistivity of one depth slice could fall to 0.60 times and not be found/,
    );
    expect(compared({ detectable: [{ ...slice, fell: null }] })[0]).toMatch(/fall to a tenth and/);
  });

  it("is told of every line by its name", () => {
    const line = { line: "toe", refused: "segmentBlocks: no", work: slices({ reliable: 0 }, 1) };
    const told = texts(otherLinesLink, { otherLines: { value: [line] } });
    expect(told[0]).toBe("toe could not be followed to the end: segmentBlocks: no.");
    expect(told[1]).toMatch(/^toe, 2031-10: resistivity is known reliably at no depth/);
  });
});
