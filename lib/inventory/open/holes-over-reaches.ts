import { defineStep, runStep } from "../../step/define-step.js";
import { type Given, resultValue, type StepResult } from "../../step/step-result.js";
import type { Inventory, InventoryHole } from "./inventory.js";

const step = defineStep({
  name: "holesOverReaches",
  options: {},
  run: ({ holes }: Inventory) => holes,
  report: (value: readonly InventoryHole[]) => ({
    value,
    summary: summaryOf(value),
    basis: [
      {
        statement: "Greedy choice of a monotone submodular gain under one budget.",
        source: "Nemhauser, Wolsey & Fisher 1978; Yaroslavtsev, Zhou & Avdiukhin 2020",
      },
    ],
    cautions: [
      "Ask for plans of buried services and scan before drilling; a hole through a blanket can start " +
        "a seepage path.",
    ],
    tables: [
      {
        id: "inventory-holes",
        caption: "Boreholes under one budget for all reaches",
        columns: [
          { field: "priority", label: "Priority", digits: 0 },
          { field: "reach", label: "Reach" },
          { field: "chainage_m", label: "Chainage (m)", digits: 0 },
          { field: "place", label: "Place" },
          { field: "depth_m", label: "Depth (m)", digits: 1 },
          { field: "class", label: "Class" },
          { field: "adds_m", label: "Adds (m of bank)", digits: 0 },
          { field: "class_m", label: "of it by its class (m)", digits: 0 },
          { field: "purpose", label: "For" },
        ],
        rows: value.map((hole) => ({
          ...{ priority: hole.priority, reach: hole.reach, chainage_m: hole.chainage_m },
          ...{ place: hole.place, depth_m: hole.depth_m, class: hole.class },
          ...{ adds_m: hole.adds_m, class_m: hole.class_m, purpose: hole.purpose },
        })),
      },
    ],
  }),
});

/**
 * Where to drill first in the whole inventory, under its one budget, and what each hole adds.
 *
 * @param inventory - what `openInventory` returned.
 * @returns the holes by priority.
 */
export function holesOverReaches(
  inventory: Given<Inventory>,
): StepResult<readonly InventoryHole[]> {
  return runStep(step, resultValue(inventory), {});
}

function summaryOf(holes: readonly InventoryHole[]): string {
  const reaches = new Set(holes.map(({ reach }) => reach)).size;
  const metres = holes.reduce((sum, { depth_m }) => sum + depth_m, 0);
  const adds = holes.reduce((sum, { adds_m }) => sum + adds_m, 0);
  return (
    `${holes.length} holes in ${reaches} reaches, ${metres.toFixed(0)} m to drill, settle as much as ` +
    `${adds.toFixed(0)} m of bank seen in full.`
  );
}
