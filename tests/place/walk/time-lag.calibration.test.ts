import { describe, expect, it } from "vitest";
import { expectClose } from "../../support/expect-close.js";
import type { WalkSketch } from "../../survey/support/walked-survey.js";
import { back, open, opened, SEEDS, there } from "../support/opened.js";

describe("the time lag", () => {
  it.each([0.5, 1, 2, 3, -1])(
    "of %s s is found within 0.3 s from two passes in opposite directions",
    async (lag_s) => {
      for (const seed of SEEDS) {
        const sketch: WalkSketch = {
          passes: [there, back],
          lag_s,
          seed,
          jitter_m: 0.3,
          noise: 0.4,
        };
        const { used, cautions, tables } = await open(sketch, { timeLag_s: "estimate" });
        expect(used.timeLag_s).toBe("estimate");
        const found = tables.find(({ id }) => id === "positions")!.rows[0]!.lag_s as number;
        expectClose(found, lag_s, { absolute: 0.3 });
        expect(cautions.some(({ text }) => text.includes("s late, from passes in opposite"))).toBe(
          true,
        );
      }
    },
  );

  it("of nought is found as nought on the demo, from coils turned another way", async () => {
    const { tables } = await opened("data-demo/sedgeholm", { timeLag_s: "estimate" });
    for (const row of tables.find(({ id }) => id === "positions")!.rows) {
      expectClose(row.lag_s as number, 0, { absolute: 0.3 });
    }
  });
});
