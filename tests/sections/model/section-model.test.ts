import { describe, expect, it } from "vitest";
import { geometricFactor } from "../../../lib/earth/spread.js";
import { spreadResponse } from "../../../lib/earth/spread-response.js";
import { predictedOf } from "../../../lib/sections/invert/section-data.js";
import { sectionCells } from "../../../lib/sections/model/section-cells.js";
import { electrodePotentialsOf, sectionModel } from "../../../lib/sections/model/section-model.js";
import { positionsOf } from "../../../lib/sections/section-input.js";
import { sectionResponse } from "../../../lib/sections/section-response.js";
import { dipoleSpreads, electrodesAt, wennerSpreads } from "../../support/electrode-lines.js";
import { expectClose } from "../../support/expect-close.js";

const COUNT = 12;
const hilly = electrodesAt(COUNT, (x) => Math.sin(x / 2));
const spreads = [...wennerSpreads(COUNT, [1, 2, 3]), ...dipoleSpreads(COUNT, [1, 2, 3])];
const fineness = { cellsPerSpacing: 2.5, wavenumberStep: 0.9 };
const turn = async () => {};

function modelOf(electrodes = hilly) {
  const x = electrodes.map(({ x_m }) => x_m);
  return sectionModel(sectionCells(x, { columnsPerSpacing: 1, depth_m: 3 }), electrodes, fineness);
}

const factor_m = (electrodes = hilly) =>
  Float64Array.from(spreads, (spread) => geometricFactor(positionsOf(spread, electrodes)));

const uneven = (cells: number) =>
  Float64Array.from({ length: cells }, (_, c) => 50 * Math.exp(Math.sin(2.3 * c)));

describe("electrodePotentialsOf", () => {
  const model = modelOf();
  const resistivity = uneven(model.patches.length);

  it("answers to each cell as central differences do", async () => {
    const at = async (values: Float64Array, withSensitivities: boolean) => {
      const potentials = await electrodePotentialsOf(model, values, { withSensitivities, turn });
      return predictedOf({ spreads, factor_m: factor_m() }, potentials);
    };
    const { jacobian } = await at(resistivity, true);
    const cells = resistivity.length;
    const largest = jacobian!.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
    for (const cell of [0, 17, 40, cells - 3]) {
      const moved = (by: number) =>
        resistivity.map((value, c) => (c === cell ? value * Math.exp(by) : value));
      const [up, down] = [await at(moved(1e-3), false), await at(moved(-1e-3), false)];
      for (const n of spreads.keys()) {
        const slope = (up.logApparent[n]! - down.logApparent[n]!) / 2e-3;
        // The differences' own error is of the order of 1e-6 squared steps.
        expectClose(jacobian![cell * spreads.length + n]!, slope, { absolute: 1e-5 * largest });
      }
    }
  });

  it("answers to all cells together as to a change of unit", async () => {
    const potentials = await electrodePotentialsOf(model, resistivity, {
      withSensitivities: true,
      turn,
    });
    const { jacobian } = predictedOf({ spreads, factor_m: factor_m() }, potentials);
    const cells = resistivity.length;
    for (const n of spreads.keys()) {
      let sum = 0;
      for (let cell = 0; cell < cells; cell++) sum += jacobian![cell * spreads.length + n]!;
      expectClose(sum, 1, { absolute: 1e-9 });
    }
  });

  it("is the finer forward model's to 3 % over topography and cells that jump by up to seven", async () => {
    const potentials = await electrodePotentialsOf(model, resistivity, {
      withSensitivities: false,
      turn,
    });
    expect(potentials.perCell).toBeNull();
    const { logApparent } = predictedOf({ spreads, factor_m: factor_m() }, potentials);
    const down = model.cells.depth_m.length - 1;
    const rows = Array.from({ length: down }, (_, j) =>
      Array.from({ length: model.cells.x_m.length - 1 }, (_, i) => resistivity[i * down + j]!),
    );
    const earth = { ...model.cells, resistivity_ohm_m: rows };
    const fine = sectionResponse(earth, hilly, spreads, { cellsPerSpacing: 6 });
    for (const [n, value] of fine.entries()) {
      expectClose(Math.exp(logApparent[n]!), value, { relative: 0.03 });
    }
  });

  it("gives layers what spreadResponse gives, to 0.7 % over a contrast of ten", async () => {
    const level = electrodesAt(COUNT);
    const flat = modelOf(level);
    const down = flat.cells.depth_m.length - 1;
    const thickness = flat.cells.depth_m[2]!;
    for (const [top, base] of [
      [100, 10],
      [10, 100],
    ] as const) {
      const layered = Float64Array.from(flat.patches, (_, c) => (c % down < 2 ? top : base));
      const potentials = await electrodePotentialsOf(flat, layered, {
        withSensitivities: false,
        turn,
      });
      const { logApparent } = predictedOf({ spreads, factor_m: factor_m(level) }, potentials);
      const earth = { resistivity_ohm_m: [top, base], thickness_m: [thickness] };
      for (const [n, spread] of spreads.entries()) {
        const exact = spreadResponse(earth, positionsOf(spread, level));
        expectClose(Math.exp(logApparent[n]!), exact, { relative: 0.007 });
      }
    }
  });
});
