import { describe, expect, it } from "vitest";
import { coregistrationTables } from "../../../lib/place/coregister/tables.js";
import { cautionsOf, misplaced, none, placed } from "../support/misplaced.js";

describe("coregistrationCautions", () => {
  const apart = misplaced({ seed: 9710, ahead_m: [none, () => 2] });

  it("says what was done, how sure it is, and what it cannot know", () => {
    const text = cautionsOf(placed(apart));
    expect(text).toMatch(
      /walk-2\.csv lies [12]\.\d ± 0\.1 m ahead of walk-1\.csv along the bank by what they/,
    );
    expect(text).toMatch(
      /read \(correlation 0\.\d\d over 3\d\d m\); they are brought to their middle/,
    );
    expect(text).toMatch(
      /the middle of passes brought together may itself be off by up to 1\.\d m/,
    );
    const [table] = coregistrationTables([{ ...placed(apart).placement, campaign: "2031-10" }]);
    expect(table!.rows[0]!.fate).toBe("brought to their middle");
  });
});
