import { describe, expect, it } from "vitest";
import { compareInterference } from "../../../lib/interference/across/compare-interference.js";
import { maskInterference } from "../../../lib/interference/mask-interference.js";
import { frozen } from "../../../lib/step/frozen.js";
import { disturbed } from "../../support/disturbed.js";

const metalAt = (places: readonly number[]) => places.map((at_m) => ({ at_m, size: 12 }));
const campaign = (label: string, places: readonly number[]) => {
  const notes = [{ object: "gate", from_m: 80, to_m: 80 }];
  const sketch = { seed: 12, metal: metalAt(places), notes, length_m: 300 };
  return maskInterference({ ...disturbed(sketch), label });
};

describe("compareInterference", () => {
  const three = [
    campaign("2030-03", [80, 150]),
    campaign("2030-10", [80, 200]),
    campaign("2031-03", [80, 200, 250]),
  ];
  const { value, cautions, tables, accounting } = compareInterference(three);

  it("tells what stays from what came and what went", () => {
    expect(value.map(({ object, verdict }) => [object, verdict])).toEqual([
      ["gate", "fixed"],
      ["", "went"],
      ["", "came"],
      ["", "came"],
    ]);
    expect(value[1]).toMatchObject({ seenIn: ["2030-03"], absentIn: ["2030-10", "2031-03"] });
  });

  it("warns of comparing the ground where something moved", () => {
    const texts = cautions.map(({ text }) => text);
    expect(texts).toHaveLength(3);
    expect(texts[0]).toContain("cannot be told from it");
  });

  it("says of an object that nobody noted and that stays that it is fixed", () => {
    const both = ["2030-03", "2030-10"].map((label) => campaign(label, [150]));
    const found = compareInterference(both);
    expect(found.value[0]).toMatchObject({ object: "", verdict: "fixed" });
    expect(found.cautions.map(({ text }) => text).join()).toContain("a fixed object; look");
  });

  it("has nothing to say of a campaign that did not read the stretch", () => {
    const short = maskInterference({
      ...disturbed({ seed: 5, metal: metalAt([80]), length_m: 120 }),
      label: "2032-03",
    });
    const found = compareInterference([campaign("2030-03", [80, 200]), short]).value;
    expect(found.map(({ verdict }) => verdict)).toEqual(["fixed", "read once"]);
  });

  it("accounts for all readings, has a row a stretch, and mutates nothing", () => {
    const readings = three.reduce((sum, one) => sum + one.accounting!.readings, 0);
    expect(accounting!.readings).toBe(readings);
    expect(tables[0]!.rows).toHaveLength(4);
    expect(compareInterference(frozen(three)).value).toEqual(value);
  });

  it("refuses one campaign, and what is none", () => {
    expect(() => compareInterference(three.slice(0, 1))).toThrow(
      "compareInterference: campaigns must be two campaigns at least",
    );
    expect(() => compareInterference([1, 2] as never)).toThrow("got 2 values");
  });
});
