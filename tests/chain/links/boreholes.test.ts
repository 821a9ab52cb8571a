import { describe, expect, it } from "vitest";
import type { BoreholePlan, ProposedBorehole } from "../../../lib/boreholes/siting/plan.js";
import { boreholesLink } from "../../../lib/chain/links/boreholes.js";
import type { Work } from "../../../lib/chain/work.js";

const hole = (id: string, chainage_m: number): ProposedBorehole => ({
  ...{ id, chainage_m, offset_m: 0, place: "crest", depth_m: 7, purpose: "", reason: "" },
  ...{ priority: 1, adds_m: 10, keptIn: 9, plansTried: 12 },
});
const workOf = (...holes: readonly ProposedBorehole[]) =>
  ({ boreholes: { value: { holes } as unknown as BoreholePlan } }) as unknown as Work;

describe("boreholes under an alternative", () => {
  const before = workOf(hole("P1", 100), hole("P2", 300));
  const after = workOf(hole("P1", 120), hole("P2", 500));

  it("are the same within 30 m, and lost beyond", () => {
    expect(boreholesLink.lost?.(before, after)).toEqual(["P2"]);
    expect(boreholesLink.effect?.(before, after)).toBe(
      "Boreholes: P2 not proposed; instead or besides 500 m.",
    );
    expect(boreholesLink.effect?.(before, before)).toBeNull();
  });
});
