import { describe, expect, it } from "vitest";
import { stripSpec } from "../../../lib/figures/strip/strip.js";
import { expectDraws, expectValidSpec } from "../support/check-spec.js";
import { meetingTexts, textBoxes } from "../support/text-boxes.js";

const rows = Array.from({ length: 20 }, (_, k) => ({
  name: `HCP 1.8 m quadrature, ${k + 1} kHz · 12.${k} m`,
  note: `${k}.0`,
  stretches: k === 3 ? [{ from_m: 10, to_m: 30, group: "over 3" }] : [],
}));

const panel = {
  kind: "rows",
  label: "What is not explained",
  rows,
  colours: { "2 to 3": "#3f7fae", "over 3": "#12304f" },
  legend: "Times the noise",
  nameLabel: "Channel",
  noteLabel: "overall",
} as const;

const strip = {
  title: "One channel stands out between 10 m and 30 m",
  domain_m: [0, 100],
  panels: [panel],
  setAside: [{ from_m: 2, to_m: 8, text: "gate" }],
} as const;

describe("rows over chainage", () => {
  it("draw what is given in the row it belongs to, and name every row, empty ones too", async () => {
    const spec = stripSpec(strip);
    expectValidSpec(spec);
    const [view] = (spec as unknown as { vconcat: { data: { values: unknown[] } }[] }).vconcat;
    expect(view!.data.values).toEqual([{ n: rows[3]!.name, a: 10, b: 30, g: "over 3" }]);
    const svg = await expectDraws(spec);
    for (const { name, note } of rows) {
      expect(svg).toContain(`>${name}</text>`);
      expect(svg).toContain(`>${note}</text>`);
    }
  });

  it("keep names, notes, flags, headings and legend apart", async () => {
    const svg = await expectDraws(stripSpec(strip));
    expect(textBoxes(svg).length).toBeGreaterThan(45);
    expect(meetingTexts(svg)).toEqual([]);
  });
});
