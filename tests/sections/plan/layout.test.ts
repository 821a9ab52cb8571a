import { describe, expect, it } from "vitest";
import { arraySpreads, lineLayout, minutesOf } from "../../../lib/sections/plan/layout.js";
import { planLineDefaults } from "../../../lib/sections/plan/options.js";
import { arrayPlace } from "../../../lib/sections/readings/array-kind.js";
import { expectClose } from "../../support/expect-close.js";

const target = { length_m: 6, top_m: 1, base_m: 3, resistivityRatio: 4 };
const layout = lineLayout(target, planLineDefaults);

describe("lineLayout", () => {
  it.each([
    // Depth to the top decides; length of nine base depths.
    [target, 1, 28],
    // A third of the length decides; length and four depths.
    [{ ...target, length_m: 1.5, base_m: 6 }, 0.5, 64],
    // Nothing handy is as small.
    [{ ...target, length_m: 0.3, top_m: 0.1, base_m: 0.2 }, 0.25, 16],
    [{ length_m: 60, top_m: 4, base_m: 9, resistivityRatio: 0.2 }, 4, 28],
  ])("lays electrodes for %o by the rules of thumb", (of, spacing_m, count) => {
    const { electrodes, ...rest } = lineLayout(of, planLineDefaults);
    expect(rest.spacing_m).toBe(spacing_m);
    expect(electrodes).toHaveLength(count);
    expect(electrodes.at(-1)?.x_m).toBe((count - 1) * spacing_m);
  });

  it("takes what is asked for", () => {
    const asked = lineLayout(target, { ...planLineDefaults, spacing_m: 2, electrodes: 20 });
    expect([asked.spacing_m, asked.electrodes.length]).toEqual([2, 20]);
  });
});

describe("arraySpreads", () => {
  it.each([
    ["Wenner", ["Wenner α"]],
    ["Schlumberger", ["Schlumberger", "Wenner α"]],
    ["dipole-dipole", ["Wenner β", "dipole-dipole"]],
  ] as const)(
    "makes %s readings, each once, on the line, down to twice the base",
    (name, names) => {
      const spreads = arraySpreads(name, layout, target);
      const places = spreads.map((spread) => arrayPlace(spread, layout.electrodes));
      expect([...new Set(places.map(({ array }) => array))].sort()).toEqual([...names].sort());
      const depths = places.map(({ medianDepth_m }) => medianDepth_m);
      expect(Math.max(...depths)).toBeLessThanOrEqual(6);
      expect(Math.max(...depths)).toBeGreaterThan(3);
      expect(new Set(spreads.map((spread) => JSON.stringify(spread))).size).toBe(spreads.length);
      const numbers = spreads.flatMap(({ a, b, m, n }) => [a, b, m, n]);
      expect([Math.min(...numbers), Math.max(...numbers)]).toEqual([1, 28]);
    },
  );
});

describe("minutesOf", () => {
  it("adds cable, electrodes and readings", () => {
    const used = { ...planLineDefaults, setUp_min: 20, minutesPerElectrode: 2 };
    expectClose(minutesOf(120, 10, { ...used, secondsPerReading: 4 }), 48, { absolute: 1e-12 });
  });
});
