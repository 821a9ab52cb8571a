import { describe, expect, it } from "vitest";
import {
  archieConductivity,
  groundsAt,
  SOIL_RESISTIVITY,
  waxmanSmitsConductivity,
} from "../../lib/earth/soils.js";
import { expectClose } from "../support/expect-close.js";

const sand = { water_S_per_m: 0.05, porosity: 0.35, cementation: 1.3 };
const clay = { water_S_per_m: 0.1, porosity: 0.4, cementation: 2, exchange_meq_per_cm3: 0.2 };

describe("archieConductivity", () => {
  it("gives the check value", () => {
    // Archie 1942 (methods, section 6, calc): 12.772 mS/m.
    expectClose(archieConductivity(sand), 0.012772, { absolute: 5e-7 });
  });

  it("falls with the square of saturation and with tortuosity", () => {
    const half = archieConductivity({ ...sand, saturation: 0.5 });
    expectClose(half, archieConductivity(sand) / 4, { relative: 1e-14 });
    const winding = archieConductivity({ ...sand, tortuosity: 2 });
    expectClose(winding, archieConductivity(sand) / 2, { relative: 1e-14 });
  });

  it("has no value outside its domain", () => {
    expect(archieConductivity({ ...sand, porosity: 0 })).toBeNaN();
    expect(archieConductivity({ ...sand, porosity: 1.1 })).toBeNaN();
    expect(archieConductivity({ ...sand, saturation: Number.NaN })).toBeNaN();
    expect(waxmanSmitsConductivity({ ...clay, exchange_meq_per_cm3: -1 })).toBeNaN();
  });
});

describe("waxmanSmitsConductivity", () => {
  it("gives the check value", () => {
    // Waxman & Smits 1968 (methods, section 6, constants remembered, calc): 81.42 mS/m.
    expectClose(waxmanSmitsConductivity(clay), 0.08142, { absolute: 5e-6 });
  });

  it("is Archie's formula without exchangeable cations", () => {
    const clean = waxmanSmitsConductivity({ ...sand, exchange_meq_per_cm3: 0, saturation: 0.6 });
    expectClose(clean, archieConductivity({ ...sand, saturation: 0.6 }), { relative: 1e-14 });
  });
});

describe("SOIL_RESISTIVITY", () => {
  it("overlaps: 60 ohm-m may be clay, sand or gravel", () => {
    expect(groundsAt(60).map((entry) => entry.ground)).toEqual([
      "clay",
      "sandy clay or clayey sand",
      "sand and gravel",
      "Quaternary sand",
    ]);
    expect(groundsAt(Number.NaN)).toEqual([]);
  });

  it("holds rising ranges, each with its source", () => {
    for (const entry of SOIL_RESISTIVITY) {
      expect(entry.to_ohm_m).toBeGreaterThanOrEqual(entry.from_ohm_m);
      expect(entry.source).toContain("Reynolds 2011");
    }
  });
});
