import { describe, expect, it } from "vitest";
import { cellsAlong } from "../../lib/seepage/evidence/piece.js";
import { usedWeights } from "../../lib/seepage/incident-weights.js";
import { seepageDefaults } from "../../lib/seepage/options.js";
import { expectClose } from "../support/expect-close.js";

const cells = cellsAlong(
  Float64Array.from({ length: 2001 }, (_, i) => i),
  5,
);
const boil = (chainage_m: number) => ({ date: "2030-01-01", chainage_m, kind: "boil", text: "" });
const piece = {
  name: "resistive core" as const,
  // Present on a tenth of the line.
  value: cells.chainage_m.map((x) => (x % 200 < 20 ? 1 : 0)),
  source: "",
  statement: () => "",
};
const weightsOf = (incidents: readonly ReturnType<typeof boil>[]) =>
  usedWeights({ cells, presences: [piece], incidents }, seepageDefaults)["resistive core"];
const declared = seepageDefaults.weights["resistive core"];

describe("weights", () => {
  it("are the declared ones with few incidents", () => {
    const few = Array.from({ length: seepageDefaults.leastIncidents - 1 }, (_, k) => boil(200 * k));
    expect(weightsOf(few)).toMatchObject({ ...declared, from: "declared" });
  });

  it("are drawn up where most incidents lie on the piece, down where none does", () => {
    const on = weightsOf(Array.from({ length: 10 }, (_, k) => boil(200 * k + 10)));
    const off = weightsOf(Array.from({ length: 10 }, (_, k) => boil(200 * k + 110)));
    expect(on.from).toBe("incidents");
    expect(on.present).toBeGreaterThan(declared.present);
    expect(on.absent).toBeLessThan(declared.absent);
    expect(off.present).toBeLessThan(declared.present);
    expect(on.sd).toBeLessThan(weightsOf([]).sd);
  });

  it("come to what many incidents say", () => {
    // Half of forty incidents on a piece that a tenth of the line shows: ln(0.5/0.1).
    const many = Array.from({ length: 400 }, (_, k) =>
      boil(200 * (k % 10) + (k % 2 === 0 ? 10 : 110)),
    );
    const { present, sd } = weightsOf(many);
    expectClose(present, Math.log(5), { absolute: 3 * sd + 0.1 });
  });

  it("of the incidents themselves are never estimated from them", () => {
    const own = { ...piece, name: "recorded incident" as const };
    const incidents = Array.from({ length: 20 }, (_, k) => boil(100 * k));
    const weights = usedWeights({ cells, presences: [own], incidents }, seepageDefaults);
    expect(weights["recorded incident"].from).toBe("declared");
  });
});
