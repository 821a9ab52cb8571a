import { describe, it } from "vitest";
import { expectClose } from "../support/expect-close.js";
import type { WalkSketch } from "../survey/support/walked-survey.js";
import { back, open, there } from "./support/opened.js";

describe("moveToCoils", () => {
  it("shifts an antenna ahead of the coils by the way walked", async () => {
    const sketch: WalkSketch = { passes: [there, back], seed: 8 };
    // The sketch's antenna is over the coils: with another its passes would be co-registered again.
    const apart = { passShift_m: "ignore" } as const;
    const plain = await open(sketch, apart);
    const moved = await open(sketch, { antennaAhead_m: 1.5, antennaLeft_m: 0.4, ...apart });
    for (const p of [0, 1]) {
      const [a, b] = [plain, moved].map(({ value }) => value.campaigns[0]!.passes[p]!);
      const way = p === 0 ? 1 : -1;
      expectClose(b!.chainage_m[200]! - a!.chainage_m[200]!, -1.5 * way, { absolute: 1e-9 });
      expectClose(b!.offset_m[200]! - a!.offset_m[200]!, -0.4 * way, { absolute: 1e-9 });
    }
  });
});
