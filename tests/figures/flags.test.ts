import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { placeFlags } from "../../lib/figures/flags.js";
import { textWidth } from "../../lib/figures/text.js";

const layout = { unitsPer_px: 2, size_px: 10, letters: 26, gap_px: 6 };

describe("placeFlags", () => {
  it("keeps every text clear of every other text and leader, whatever the flags", () => {
    const flag = fc.record({
      at: fc.integer({ min: 0, max: 2400 }),
      text: fc.string({ minLength: 1, maxLength: 30 }),
    });
    fc.assert(
      fc.property(fc.array(flag, { maxLength: 25 }), (flags) => {
        const placed = placeFlags(flags, layout);
        for (const a of placed) {
          const end = a.at + textWidth(a.text, 10) * 2;
          for (const b of placed) {
            if (a === b) continue;
            const leaderCrosses = b.at >= a.at && b.at <= end && b.row >= a.row && b.at !== a.at;
            const textMeets = a.row === b.row && b.at >= a.at && b.at <= end;
            expect(leaderCrosses || textMeets).toBe(false);
          }
        }
      }),
    );
  });

  it("counts equal neighbours that would collide instead of writing each", () => {
    const flags = [100, 110, 120, 900].map((at) => ({ at, text: "guard rail" }));
    expect(placeFlags(flags, layout)).toEqual([
      { at: 100, text: "guard rail ×3", row: 0 },
      { at: 900, text: "guard rail", row: 0 },
    ]);
  });

  it("writes nothing for a flag without text", () => {
    expect(placeFlags([{ at: 5, text: " " }], layout)).toEqual([]);
  });
});
