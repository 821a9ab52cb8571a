import { expect, it } from "vitest";
import { claimsFigure } from "../../../lib/review/claims/claims-figure.js";
import { compareClaims } from "../../../lib/review/claims/compare-claims.js";
import { renderSvg } from "../../../lib/step/show/render-svg.js";
import { madeFindings } from "../support/made-findings.js";

const here = madeFindings();

it("draws what either appendix says of which stretch, and what is said by one alone", async () => {
  const toe = { ...here.changes[0]!, line: "toe", from_m: 20, to_m: 60 };
  const pairs = compareClaims(here, madeFindings({ changes: [toe] }));
  const svg = await renderSvg(claimsFigure(pairs)!.spec);
  const marks = [
    ...svg.matchAll(
      /aria-label="([^"]*)" role="graphics-symbol" aria-roledescription="rect mark"/g,
    ),
  ];
  const said = marks.map(([, label]) => label ?? "");
  const alone = said.filter((label) => label.includes("only in"));
  expect(alone).toHaveLength(2);
  expect(alone.join(" ")).toMatch(/200.*240.*only in this one.*20.*60.*only in the other/);
  for (const row of ["make of bank, this one", "change, the other", "change (toe), the other"]) {
    expect(svg).toContain(row);
  }
});

it("is null where nothing has a place", () => {
  expect(claimsFigure([])).toBeNull();
});
