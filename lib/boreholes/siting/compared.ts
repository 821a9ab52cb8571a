import { itemAt, valueAt } from "../../numerics/arrays.js";
import type { Settled, Weighing } from "./gain.js";
import type { BoreholePlan, PartName, PlanPart } from "./plan.js";

/** What is settled before, by the plan and by holes at equal spacing. */
export interface Compared {
  readonly before: Settled;
  readonly plan: Settled;
  readonly spaced: Settled;
}

const PARTS: readonly PartName[] = ["soil", "block", "class", "boundary", "seepage", "change"];

/** Parts in which there is something to settle. */
export function partsOf({ targets, cells }: Weighing, by: Compared): readonly PlanPart[] {
  const [before, plan, spaced] = [by.before.byPart(), by.plan.byPart(), by.spaced.byPart()];
  const soil_m = cells.places.reduce(
    (sum, row, k) => sum + row.filter((place) => place !== null).length * itemAt(cells.worth_m, k),
    0,
  );
  return PARTS.map((name) => ({
    name,
    all_m:
      name === "soil"
        ? soil_m
        : targets.reduce((sum, { part, worth_m }) => sum + (part === name ? worth_m : 0), 0),
    before_m: before.get(name) ?? 0,
    plan_m: plan.get(name) ?? 0,
    equal_m: spaced.get(name) ?? 0,
  })).filter(({ all_m }) => all_m > 0);
}

export const total = (settled: Settled) =>
  [...settled.byPart().values()].reduce((sum, part) => sum + part, 0);

/** Along the bank, the mean over slices by their worth. */
export function toldAlong({ cells }: Weighing, by: Compared): BoreholePlan["told"] {
  const all = cells.worth_m.reduce((sum, worth) => sum + worth, 0);
  const column = ({ told }: Settled) =>
    cells.chainage_m.map((_, i) => {
      if (cells.places.every((row) => row[i] === null)) return Number.NaN;
      const sum = told.reduce((s, row, k) => s + itemAt(cells.worth_m, k) * valueAt(row, i), 0);
      return all > 0 ? sum / all : Number.NaN;
    });
  return {
    chainage_m: cells.chainage_m,
    before: column(by.before),
    plan: column(by.plan),
    equal: column(by.spaced),
  };
}
