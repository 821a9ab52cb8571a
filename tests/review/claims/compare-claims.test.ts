import { expect, it } from "vitest";
import { claimsText, compareClaims } from "../../../lib/review/claims/compare-claims.js";
import { madeFindings } from "../support/made-findings.js";

const here = madeFindings();
const [first, second] = here.blocks;
const [change] = here.changes;

it("finds every claim of an appendix in itself", () => {
  const pairs = compareClaims(here, here);
  expect(pairs).toHaveLength(8);
  expect(pairs.every(({ outcome, how }) => outcome === "both" && how === "")).toBe(true);
});

it("does not mind the letters of classes, nor ends that moved a little", () => {
  const blocks = [
    { ...first!, to_m: 128, class: "K" },
    { ...second!, from_m: 128, class: "L" },
  ];
  const pairs = compareClaims(here, madeFindings({ blocks }));
  expect(pairs.filter(({ outcome }) => outcome !== "both")).toEqual([]);
});

it("says what is altered: a direction, a band, intervals that do not meet", () => {
  const resistive = second!.resistivity_ohm_m.map((one) => ({ ...one, p10: 100, p90: 120 }));
  const there = madeFindings({
    blocks: [first!, { ...second!, resistivity_ohm_m: resistive }],
    changes: [{ ...change!, direction: "rose", ratioInterval: [1.1, 1.3] }],
    seepage: [{ ...here.seepage[0]!, band: "high" }],
  });
  const altered = compareClaims(here, there).filter(({ outcome }) => outcome === "altered");
  expect(altered.map(({ how }) => how)).toEqual([
    "72 to 88 ohm-m at 0–1 m here, 100 to 120 there",
    "fell here, rose there; 0.75 to 0.85 times as resistive here, 1.1 to 1.3 there",
    "moderate here, high there",
  ]);
});

it("leaves alone what lies elsewhere, is of another kind or of another line", () => {
  const far = { ...here.boreholes[0]!, chainage_m: 260 };
  const toe = { ...change!, line: "toe" };
  const pairs = compareClaims(here, madeFindings({ boreholes: [far], changes: [toe] }));
  const alone = pairs.filter(({ outcome }) => outcome !== "both");
  expect(alone.map(({ kind, outcome }) => [kind, outcome])).toEqual([
    ["change", "only here"],
    ["borehole", "only here"],
    ["change", "only there"],
    ["borehole", "only there"],
  ]);
  expect(claimsText(pairs)).toBe(
    "Claim by claim: 6 in both, 0 altered, 2 only here, 2 only in the other.",
  );
});

it("gives a claim one partner, the most alike", () => {
  const halves = [
    { ...second!, id: "B2", to_m: 220 },
    { ...second!, id: "B3", from_m: 220 },
  ];
  const pairs = compareClaims(here, madeFindings({ blocks: [first!, ...halves] }));
  const blocks = pairs.filter(({ kind }) => kind === "make of bank");
  expect(blocks.map(({ outcome }) => outcome)).toEqual(["both", "both", "only there"]);
  expect(blocks[1]!.there).toContain("120–220 m");
});
