import { groupedBy } from "../../numerics/arrays.js";
import { defineStep, runStep } from "../../step/define-step.js";
import { type Given, resultValue, type StepResult } from "../../step/step-result.js";
import type { Inventory, InventoryUnknown } from "./inventory.js";
import { interpretedOf, kilometres } from "./open-inventory.js";

const SHOWN = 15;

const step = defineStep({
  name: "unknownOverReaches",
  options: {},
  run: ({ unknown }: Inventory) => unknown,
  report: (value: readonly InventoryUnknown[], _, inventory) => ({
    value,
    summary: summaryOf(value, inventory),
    tables: [kindsTable(value), reachesTable(value)],
  }),
});

/**
 * What is not known, and where: stretches without resistivity by depth, stretches that campaigns do
 * not compare, pieces of evidence that nothing tells, reaches without a borehole.
 *
 * @param inventory - what `openInventory` returned.
 * @returns for each reach and each thing that is not known, the length of bank.
 */
export function unknownOverReaches(
  inventory: Given<Inventory>,
): StepResult<readonly InventoryUnknown[]> {
  return runStep(step, resultValue(inventory), {});
}

function summaryOf(unknown: readonly InventoryUnknown[], inventory: Inventory): string {
  const found = interpretedOf(inventory);
  const undrilled = found.filter(({ boreholes }) => boreholes === 0);
  const failed = inventory.reaches.length - found.length;
  const blind = unknown.filter(({ what }) => what === NO_RESISTIVITY);
  return (
    `${failed} of ${inventory.reaches.length} reaches are not interpreted. Of the others, ` +
    `${undrilled.length} (${kilometres(undrilled).toFixed(1)} of ${kilometres(found).toFixed(1)} km) ` +
    `have no borehole, and ${kilometres(blind).toFixed(2)} km have no resistivity by depth.`
  );
}

const NO_RESISTIVITY = "no resistivity by depth";

function kindsTable(unknown: readonly InventoryUnknown[]) {
  return {
    id: "inventory-unknown",
    caption: "What is not known",
    columns: [
      { field: "what", label: "What" },
      { field: "reaches", label: "Reaches", digits: 0 },
      { field: "km", label: "Bank (km)", digits: 2 },
    ],
    rows: [...groupedBy(unknown, ({ what }) => what)]
      .map(([what, rows]) => ({
        what,
        reaches: new Set(rows.map(({ reach }) => reach)).size,
        km: kilometres(rows),
      }))
      .sort((one, other) => other.km - one.km),
  };
}

function reachesTable(unknown: readonly InventoryUnknown[]) {
  const rows = unknown
    .filter(({ what }) => what === NO_RESISTIVITY)
    .toSorted((one, other) => other.length_m - one.length_m)
    .slice(0, SHOWN);
  return {
    id: "inventory-unknown-reaches",
    caption: "Reaches with the longest stretches without resistivity by depth",
    columns: [
      { field: "reach", label: "Reach" },
      { field: "length_m", label: "Length (m)", digits: 0 },
    ],
    rows: rows.map(({ reach, length_m }) => ({ reach, length_m })),
  };
}
