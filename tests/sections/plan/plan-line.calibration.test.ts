import { describe, expect, it } from "vitest";
import { planLine } from "../../../lib/sections/plan/plan-line.js";

const target = { length_m: 5, top_m: 0.8, base_m: 2.6, resistivityRatio: 5 };
const quick = {
  array: "dipole-dipole",
  spacing_m: 1,
  electrodes: 20,
  trials: 4,
  seed: 11,
} as const;
const probabilityOf = async (of: typeof target, options = {}) =>
  (await planLine(of, { ...quick, ...options })).value.best.probability;

// LINE_PLANS=60 asks for more trials, and then the interval is held against trials of other seeds.
const TRIALS = Number(process.env.LINE_PLANS ?? 0);

describe("planLine", () => {
  it("recovers a large shallow body, not a small deep one, nor one that is hardly there", async () => {
    expect(await probabilityOf(target)).toBeGreaterThan(0.7);
    const deep = { ...target, length_m: 2, top_m: 6, base_m: 7 };
    expect(await probabilityOf(deep)).toBe(0);
    expect(await probabilityOf({ ...target, resistivityRatio: 1.1 })).toBeLessThan(0.4);
  });

  it("says what drowns in noise, and when no reading is left", async () => {
    expect(await probabilityOf(target, { noise: 0.4 })).toBeLessThan(0.4);
    const none = await planLine(target, { ...quick, trials: 2, current_mA: 0.001 });
    expect(none.value.best).toMatchObject({ recovered: 0, overlap: 0, reliable: 0 });
    expect(none.figures).toEqual([]);
    expect(none.cautions.map(({ text }) => text).join(" ")).toContain("do not promise it");
  });

  it("compares arrays, reports progress and gives the same twice", async () => {
    const parts: number[] = [];
    const progress = (done: number, total: number) => parts.push(done / total);
    const options = { trials: 2, seed: 5, spacing_m: 1, electrodes: 16 } as const;
    const one = await planLine(target, { ...options, progress });
    expect(one.value.arrays.map(({ array }) => array)).toEqual([
      "Wenner",
      "Schlumberger",
      "dipole-dipole",
    ]);
    expect(parts).toEqual([1 / 6, 2 / 6, 3 / 6, 4 / 6, 5 / 6, 1]);
    expect(one.cautions.map(({ text }) => text).join(" ")).toContain("dangerous to life");
    expect(one.figures.map(({ id }) => id)).toEqual(["plan-line"]);
    expect((await planLine(target, options)).value).toEqual(one.value);
  });

  it("stops where its progress throws", async () => {
    const progress = () => {
      throw new Error("stopped");
    };
    await expect(planLine(target, { ...quick, progress })).rejects.toThrow("stopped");
  });

  it.skipIf(TRIALS === 0)("says what other trials then show", { timeout: 3_600_000 }, async () => {
    const hard = { ...target, top_m: 1.4, base_m: 2.6, resistivityRatio: 2.5 };
    const options = { trials: TRIALS, array: "Schlumberger" } as const;
    const first = (await planLine(hard, { ...options, seed: 21 })).value.best;
    const other = (await planLine(hard, { ...options, seed: 22 })).value.best;
    const sd = Math.sqrt((2 * 0.25) / TRIALS);
    expect(Math.abs(first.probability - other.probability)).toBeLessThan(2.6 * sd);
  });
});
