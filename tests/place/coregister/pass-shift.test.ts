import { describe, expect, it } from "vitest";
import type { Campaign } from "../../../lib/survey/survey.js";
import { misplaced, none, placed } from "../support/misplaced.js";

describe("shiftBetween", () => {
  const sketch = { ahead_m: [none, () => 2] };

  it("gives none for passes of other ground or another line, nor for short ones", () => {
    const here = misplaced({ seed: 9850, ...sketch });
    const there = misplaced({ seed: 9851, ...sketch });
    const foundOf = (passes: Campaign["passes"]) =>
      placed({ ...here, passes }).placement.coregistration.pairs[0]!.found;
    expect(foundOf([here.passes[0]!, there.passes[1]!])).toBe("unlike");
    const toe = here.passes[1]!;
    const aside = { ...toe, northing_m: toe.northing_m.map((y) => y + 8) };
    expect(foundOf([here.passes[0]!, aside])).toBe("other line");
    const short = { ...sketch, seed: 9852, length_m: 140 };
    expect(placed(misplaced(short)).placement.coregistration.pairs[0]!.found).toBe("no overlap");
  });
});
