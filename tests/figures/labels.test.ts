import { describe, expect, it } from "vitest";
import { placeLabels } from "../../lib/figures/labels.js";
import { textWidth } from "../../lib/figures/text.js";

const space = { width_px: 200, height_px: 100, size_px: 10, distance_px: 6, obstacles: [] };

describe("placeLabels", () => {
  it("puts a label above its anchor where all is free", () => {
    const [label] = placeLabels([{ x: 100, y: 50, text: "BH1" }], space);
    const half = 10 * 0.62;
    expect(label).toMatchObject({ left: 100 - (textWidth("BH1", 10) + 2) / 2, middle: 44 - half });
  });

  it("moves it off what is drawn there", () => {
    const obstacles = [[100, 38]] as const;
    const [label] = placeLabels([{ x: 100, y: 50, text: "BH1" }], { ...space, obstacles });
    expect(label?.middle).toBeGreaterThan(50);
  });

  it("lets no two meet, and leaves out what has no place", () => {
    const wishes = Array.from({ length: 40 }, (_, i) => ({ x: 100, y: 50, text: `BH${i}` }));
    const placed = placeLabels(wishes, space);
    expect(placed.length).toBeGreaterThan(3);
    expect(placed.length).toBeLessThan(40);
    for (const [i, one] of placed.entries()) {
      const end = one.left + textWidth(one.text, 10);
      expect(one.left).toBeGreaterThanOrEqual(0);
      expect(end).toBeLessThanOrEqual(200);
      for (const other of placed.slice(0, i)) {
        const sideBySide = other.left >= end || one.left >= other.left + textWidth(other.text, 10);
        expect(sideBySide || Math.abs(one.middle - other.middle) >= 2 * 6.2 - 1e-9).toBe(true);
      }
    }
  });
});
