// What the data cannot answer is said on the first screen: each link's own sentences.
import { describe, expect, it } from "vitest";
import { segmentBlocks } from "../../../lib/blocks/segment-blocks.js";
import { unanswered } from "../../../lib/chain/gather.js";
import { blocksLink } from "../../../lib/chain/links/blocks.js";
import { compareLink } from "../../../lib/chain/links/campaigns.js";
import { depthLink } from "../../../lib/chain/links/depth.js";
import { driftLink } from "../../../lib/chain/links/drift.js";
import { otherLinesLink } from "../../../lib/chain/links/other-lines.js";
import { sectionsLink } from "../../../lib/chain/links/sections.js";
import { soilsLink } from "../../../lib/chain/links/soils.js";
import type { Work } from "../../../lib/chain/work.js";
import { depthReport } from "../../../lib/depth/account.js";
import { invertSection } from "../../../lib/sections/invert-section.js";
import type { Borehole } from "../../../lib/survey/survey.js";
import { campaignsOf, makeSurvey } from "../../abroad/index.js";
import { makeDepthSlices } from "../../support/depth-slices.js";
import { electrodesAt, measuredAs, wennerSpreads } from "../../support/electrode-lines.js";
import { smallSurvey } from "../../support/small-survey.js";
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

  it("is a stretch that no layered ground explains, in the words of the step's own caution", () => {
    const sound = makeDepthSlices({});
    const misfit = sound.chainage_m.map((x) => (x >= 200 && x < 350 ? 4 : 0.6));
    const value = { ...sound, misfit };
    const said = depthReport(value, null, smallSurvey({}).campaigns[0]!).cautions;
    const [text] = texts(depthLink, { slices: [{ value }] });
    expect(text).toMatch(/^2031-10: no layered ground explains the readings at 20\d/);
    expect(said).toContain(text);
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

  it("is that slip too where noise found from the line took the misfit in", () => {
    const made = makeSurvey({
      ...{ seed: 4712, ground: "blocks", errors: "noise", length_m: 60 },
      instrument: "five frequencies HCP",
    });
    const sound = campaignsOf(made).map((value) => ({ value }));
    const masked = sound.map(({ value }) => ({ value: described(otherPart)(value) }));
    const told = texts(depthLink, { ...slices({}, 1.2), masked });
    expect(told).toHaveLength(1);
    expect(told[0]).toContain("as if quadrature and in-phase were exchanged. Resistivities");
    expect(texts(depthLink, { ...slices({}, 1.2), masked: sound })).toEqual([]);
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

  it("is ground that changes within a block, and a boundary between like ground", () => {
    const told = (truth: (x: number) => number) => {
      const value = makeDepthSlices({ truth, texture: 0.02 });
      return texts(blocksLink, { blocks: segmentBlocks(value), reference: { value } });
    };
    expect(told((x) => (x < 400 ? 1.3 : 1.9))).toEqual([]);
    expect(told((x) => 1.2 + x / 800)[0]).toMatch(
      /^B1 \(0–798 m\) is not of one make, though no boundary is told in it: it changes steadily/,
    );
    // A level that goes up and down again over hundreds of metres, without a place where it steps.
    expect(told((x) => 1.5 + 0.35 * Math.cos((x * Math.PI) / 400))[0]).toMatch(
      /it reads \d+ to \d+ ohm-m from place to place \(eight stations in ten, at \d/,
    );
    const gravel = (x: number) => (x >= 300 && x < 320 ? 2 : 1.2);
    expect(told(gravel).some((text) => /shortest block .* at (29|30)\d–3/.test(text))).toBe(true);
    const block = (from_m: number, median: number) => ({
      ...{ id: `B${from_m}`, from_m, to_m: from_m + 100 },
      resistivity_ohm_m: [{ top_m: 0, base_m: 1, median, p10: median, p90: median }],
    });
    const parted = (median: number) =>
      texts(blocksLink, {
        blocks: {
          value: { blocks: [block(0, 50), block(100, median)] },
          used: { minLength_m: 40 },
        },
        reference: { value: makeDepthSlices({}) },
      });
    expect(parted(52)[0]).toMatch(/^The boundary at 100 m parts like ground\. .*shortest block/);
    expect(parted(60)).toEqual([]);
  });

  it("is which boreholes are right where coarse ground reads less than fine", () => {
    const hole = (borehole: string, chainage_m: number, soil: string): Borehole => {
      const strata = [{ top_m: 0, base_m: 6, soil, description: "" }];
      const laboratory: Borehole["laboratory"] = [];
      const place = { chainage_m, offset_m: 0, elevation_m: 6, depth_m: 6 };
      return { borehole, ...place, strata, laboratory };
    };
    const told = (coarse_m: number, fine_m: number) => {
      const boreholes = [hole("BH1", coarse_m, "grSa"), hole("BH2", fine_m, "siCl")];
      const [reference] = [
        { value: makeDepthSlices({ truth: (x) => (x < 400 ? 1.3 : 1.9), texture: 0, sd: 0.001 }) },
      ];
      return texts(soilsLink, { survey: { value: { boreholes } }, reference });
    };
    expect(told(600, 150)).toEqual([]);
    expect(told(150, 600)[0]).toMatch(
      /speak against the walk: it reads 20 ohm-m beside coarse ground \(BH1\) and 80 ohm-m beside/,
    );
    expect(told(150, 160)).toEqual([]);
  });

  it("is the ground where an electrode line and the walk disagree", async () => {
    const count = 14;
    const electrodes = electrodesAt(count);
    const spreads = wennerSpreads(count, [1, 2, 3, 4]);
    const section = (noted: number) => {
      // Twice as far apart as noted: resistances of ground of 40 ohm-m read as half of it.
      const apparent_ohm_m = spreads.map(() => 40 / noted);
      const line = measuredAs({ electrodes, spreads, apparent_ohm_m, noise: 0.01, seed: 2 });
      return invertSection(line, { draws: 60 });
    };
    const walk = { stations: 21, from_m: 90, edges_m: [0, 1, 2], texture: 0, sd: 0.04 };
    const reference = { value: makeDepthSlices({ ...walk, truth: () => Math.log10(40) }) };
    const told = async (noted: number) =>
      texts(sectionsLink, { reference, slices: [reference], sections: [await section(noted)] });
    expect(await told(1)).toEqual([]);
    expect((await told(2))[0]).toMatch(
      /^Line T1 and the walk disagree: the walk reads (1\.[89]|2\.[01])\d times at 0\.0–1\.0 m/,
    );
  });

  it("is drift without base checks", () => {
    const campaign = (baseChecks: readonly unknown[]) => ({
      drift: [{ value: { label: "2031-10", baseChecks } }],
    });
    expect(texts(driftLink, campaign([]))[0]).toMatch(/^2031-10: without base checks drift/);
    expect(texts(driftLink, campaign([{}]))).toEqual([]);
  });

  it("is change where most of the line cannot be compared", () => {
    const changes = (to_m: number, from_m = 0) => ({
      changes: [
        {
          value: {
            earlier: "2031-10",
            later: "2032-04",
            unknown: [{ from_m, to_m }],
            chainage_m: Float64Array.of(0, 50, 100),
          },
        },
      ],
    });
    expect(texts(compareLink, changes(60))).toEqual([
      "2031-10 to 2032-04: change is unknown on 60 % of the line, which is not the same as none.",
    ]);
    expect(texts(compareLink, changes(40))).toEqual([]);
    // The later campaign walked from 0 m on, the earlier one from −150 m: 150 m of 250 m.
    expect(texts(compareLink, changes(0, -150))).toEqual([
      "2031-10 to 2032-04: change is unknown on 60 % of the line, which is not the same as none.",
    ]);
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
