import { expect, it } from "vitest";
import { appendixClaims } from "../../../lib/review/claims/appendix-claims.js";
import { madeFindings } from "../support/made-findings.js";

it("claims each block, place, change, section, zone and hole once, each by a name of its own", () => {
  expect(appendixClaims(madeFindings()).map(({ id }) => id)).toEqual([
    "block B1",
    "block B2",
    "metal 40–52 m",
    "change 200–240 m between one and two",
    "section R1",
    "section R1 (2)",
    "seepage zone 1",
    "borehole P1",
  ]);
});

it("names the line where several were walked", () => {
  const [block] = madeFindings().blocks;
  const [claim] = appendixClaims(madeFindings({ blocks: [{ ...block!, line: "toe" }] }));
  expect(claim).toMatchObject({ id: "line toe, block B1", line: "toe" });
});

it("states what is said, on what evidence, and which alternatives move its own kind", () => {
  const claims = appendixClaims(madeFindings());
  const of = (id: string) => claims.find((claim) => claim.id === id)!;
  const decision = "segmentBlocks.minLength_m = 80 instead of 40";
  expect(of("block B1").statement).toBe(
    "0–120 m is of one make, class A: 30 ohm-m at 0–1 m (27 to 33).",
  );
  expect(of("block B1").alternatives).toEqual([`${decision}: Blocks: 1 block instead of 2.`]);
  expect(of("metal 40–52 m").word).toBe("explained by a note");
  expect(of("metal 40–52 m").evidence).toBe("18 readings of one, two (both, detected).");
  expect(of("seepage zone 1").evidence).toBe("Recorded: sand boil.");
  expect(of("seepage zone 1").alternatives).toEqual([
    `${decision}: First seepage zones: none, instead of 190–250 m.`,
  ]);
  expect(of("borehole P1").alternatives).toEqual(["holes = 0: P1 is not proposed."]);
  expect(of("change 200–240 m between one and two").alternatives).toEqual([]);
});
