import { curveSpec } from "../../figures/curve/curve.js";
import { groupedBy } from "../../numerics/arrays.js";
import { defineStep, runStep } from "../../step/define-step.js";
import type { Figure, Table } from "../../step/figure.js";
import { type Given, resultValue, type StepResult } from "../../step/step-result.js";
import type { Inventory, InventoryClass, InventoryWeight } from "./inventory.js";

export interface GroundOverReaches {
  readonly classes: readonly InventoryClass[];
  /** Weights of the evidence that are common to all reaches. */
  readonly weights: readonly InventoryWeight[];
}

const step = defineStep({
  name: "groundOverReaches",
  options: {},
  run: ({ classes, weights }: Inventory): GroundOverReaches => {
    return { classes, weights: weights.filter(({ reach }) => reach === null) };
  },
  report: (value: GroundOverReaches) => {
    const names = new Set(value.classes.map((one) => one.class));
    return {
      value,
      summary:
        `${names.size} ${names.size === 1 ? "class" : "classes"} of ground, the same in every reach; ` +
        weightWords(value.weights),
      basis: [
        {
          statement: "One mixture over the blocks of all reaches, their uncertainty taken out.",
          source: "Bovy, Hogg & Roweis 2011; Fraley & Raftery 2002 (number of classes)",
        },
      ],
      cautions: ["A class is no soil: what soil a class is, boreholes tell."],
      figures: names.size === 0 ? [] : [classesFigure(value.classes)],
      tables: [classesTable(value.classes), weightsTable(value.weights)],
    };
  },
});

/**
 * The classes of ground that mean the same in every reach, and the weights that all recorded
 * incidents give the pieces of evidence.
 *
 * @param inventory - what `openInventory` returned.
 * @returns classes by depth (log10 ohm-m), and the common weights (log-odds).
 */
export function groundOverReaches(inventory: Given<Inventory>): StepResult<GroundOverReaches> {
  return runStep(step, resultValue(inventory), {});
}

function weightWords(weights: readonly InventoryWeight[]): string {
  return weights.some(({ source }) => source === "incidents")
    ? "weights of evidence come from the recorded incidents of all reaches."
    : "weights of evidence are the declared ones: too few incidents are on record.";
}

function classesFigure(classes: readonly InventoryClass[]): Figure {
  const byName = [...groupedBy(classes, (one) => one.class)];
  const title = `${byName.length} classes of ground over all reaches`;
  const spec = curveSpec({
    title,
    columns: 1,
    x: { label: "Depth below the crest (m)", scale: "linear", withZero: true },
    y: { label: "Resistivity (ohm-m)", scale: "log" },
    plots: [
      {
        label: "",
        series: byName.flatMap(([name, rows]) => {
          const x = rows.map(({ top_m, base_m }) => (top_m + base_m) / 2);
          const at = (sign: number) =>
            rows.map((one) => {
              return 10 ** (one.log10_ohm_m + sign * Math.hypot(one.sd, one.common_sd));
            });
          return [
            { name, form: "line" as const, x, y: at(0) },
            { name, form: "points" as const, x, y: at(0), lo: at(-1), hi: at(1) },
          ];
        }),
      },
    ],
    legend: "Class",
  });
  const caption =
    "Centres of the classes by depth; bars are one standard deviation of the ground of a class, the " +
    "blocks' own errors taken out. Classes whose bars overlap at every depth are told apart by many " +
    "blocks, not by each.";
  return { id: "inventory-classes", title, caption, spec };
}

function classesTable(classes: readonly InventoryClass[]): Table {
  const byName = [...groupedBy(classes, (one) => one.class)];
  const depth = ({ top_m, base_m }: InventoryClass) => `${top_m}–${base_m} m`;
  const depths = [...new Set(classes.map(depth))];
  return {
    id: "inventory-classes-table",
    caption: "Classes of ground: resistivity by depth (ohm-m)",
    columns: [
      { field: "class", label: "Class" },
      { field: "km", label: "Bank (km)", digits: 1 },
      { field: "share", label: "Share of blocks", digits: 2 },
      ...depths.map((name) => ({ field: name, label: name, digits: 0 })),
    ],
    rows: byName.map(([name, rows]) => ({
      ...{ class: name, km: (rows[0]?.length_m ?? 0) / 1000, share: rows[0]?.share ?? null },
      ...Object.fromEntries(rows.map((one) => [depth(one), 10 ** one.log10_ohm_m])),
    })),
  };
}

function weightsTable(weights: readonly InventoryWeight[]): Table {
  return {
    id: "inventory-weights",
    caption: "Weights of the evidence for seepage, common to all reaches (log-odds)",
    columns: [
      { field: "piece", label: "Evidence" },
      { field: "present", label: "Where present", digits: 2 },
      { field: "absent", label: "Where absent", digits: 2 },
      { field: "sd", label: "Standard deviation", digits: 2 },
      { field: "between", label: "Between reaches", digits: 2 },
      { field: "source", label: "From" },
    ],
    rows: weights.map(({ piece, present, absent, sd, between, source }) => {
      return { piece, present, absent, sd, between, source };
    }),
  };
}
