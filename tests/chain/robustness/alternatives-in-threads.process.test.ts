// The built library: sources that a test runs as they are make every call in one thread.
import { afterEach, describe, expect, it } from "vitest";
import type * as Library from "../../../lib/index.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { inFolder, minimalSurvey } from "../../survey/support/survey-folder.js";

const built = new URL("../../../dist/lib/index.js", import.meta.url);

/** 200 m of which the second half conducts twice as well. */
function walk(): string[] {
  const random = seededRandom(3);
  const rows = Array.from({ length: 300 }, (_, i) => {
    const longitude = 3 + (i * 0.655) / 65_600;
    const time = new Date(Date.UTC(2031, 9, 14, 8, 0, i)).toISOString();
    const reading = (share: number) =>
      (share * (i < 150 ? 14 : 28) + 0.3 * random.normal()).toFixed(2);
    return `${time},${longitude.toFixed(7)},54,${reading(1)},${reading(0.8)}`;
  });
  return ["time,longitude,latitude,c_hcp,c_vcp", ...rows];
}

afterEach(() => {
  delete process.env.BANQUETTE_THREADS;
});

describe("alternatives", () => {
  it("come out the same, in their order, whatever the number of threads", async () => {
    const { decide, interpret, openSurvey, tryAlternatives, tryCombinations } = (await import(
      built.href
    )) as typeof Library;
    const because = "a test tries it";
    const decisions = [
      decide("maskInterference.threshold", 5, { because, alternatives: [1e6] }),
      decide("segmentBlocks.minLength_m", 40, { because, alternatives: [20, 1e5] }),
      decide("scoreSeepage.startingProbability", 0.05, { because, alternatives: [0.5, 1e-6] }),
      decide("siteBoreholes.holes", 2, { because, alternatives: [1, 3] }),
      decide("weather", "dry", { because, alternatives: ["wet"] }),
    ];
    const sketch = minimalSurvey();
    sketch.files["walk.csv"] = walk();
    await inFolder(sketch, async (folder) => {
      process.env.BANQUETTE_THREADS = "1";
      const { value: work } = await interpret(await openSurvey(folder), decisions);
      const alone = work.robustness;
      const several = JSON.stringify((await tryCombinations(work, { count: 5 })).value);
      expect(alone?.map(({ alternative }) => alternative)).toEqual(
        decisions.flatMap(({ alternatives }) => alternatives.map(String)),
      );
      for (const threads of ["2", "3"]) {
        process.env.BANQUETTE_THREADS = threads;
        let started = 0;
        const count = () => {
          started += 1;
        };
        process.on("worker", count);
        const told: number[] = [];
        const progress = (done: number) => told.push(done);
        const together = await tryAlternatives(work, { progress });
        expect(JSON.stringify(together.value)).toBe(JSON.stringify(alone));
        const again = await tryCombinations(work, { count: 5 });
        expect(JSON.stringify(again.value)).toBe(several);
        process.off("worker", count);
        // A work that could not be sent would be made here.
        expect(started).toBeGreaterThan(0);
        expect(told).toEqual([...told].sort((one, other) => one - other));
      }
    });
  });
});
