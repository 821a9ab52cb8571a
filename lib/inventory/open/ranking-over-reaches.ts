import { curveSpec } from "../../figures/curve/curve.js";
import { rankingSpec } from "../../figures/ranking.js";
import { defineStep, runStep } from "../../step/define-step.js";
import type { Figure, Table } from "../../step/figure.js";
import { type Given, resultValue, type StepResult } from "../../step/step-result.js";
import type { Inventory, InventoryZone } from "./inventory.js";
import { zoneName } from "./map-figure.js";

const SHOWN = 20;
const MOVES = 60;

const step = defineStep({
  name: "rankingOverReaches",
  options: {},
  run: ({ ranking }: Inventory) => ranking,
  report: (value: readonly InventoryZone[], _, inventory) => ({
    value,
    summary: summaryOf(value),
    basis: [
      {
        statement: "Weights of evidence, pooled over the recorded incidents of all reaches.",
        source: "Agterberg 1989; Bonham-Carter 1994; Gelman et al. 2013 (partial pooling)",
      },
    ],
    cautions: cautionsOf(inventory),
    figures: value.length === 0 ? [] : [rankingFigure(value), movesFigure(value)],
    tables: [rankingTable(value)],
  }),
});

/**
 * The seepage zones of all reaches by one measure, and how sure their order is: 80 % of each rank
 * under weights drawn from what is known of them, and the rank by the scores that the reaches give
 * by themselves.
 *
 * @param inventory - what `openInventory` returned.
 * @returns the zones by rank.
 */
export function rankingOverReaches(
  inventory: Given<Inventory>,
): StepResult<readonly InventoryZone[]> {
  return runStep(step, resultValue(inventory), {});
}

function summaryOf(zones: readonly InventoryZone[]): string {
  const sure = zones.filter(({ among_first_ten }) => among_first_ten >= 0.9).length;
  const tied = zones.filter((one) => one.among_first_ten > 0.1 && one.among_first_ten < 0.9).length;
  return (
    `${zones.length} zones; ${sure} are among the first ten in nine draws of ten or more, ` +
    `${tied} may be or not.`
  );
}

function cautionsOf({ weights }: Inventory): readonly string[] {
  const declared = weights.every(({ source }) => source === "declared");
  return [
    "A probability ranks zones; it is none of failure.",
    ...(declared
      ? ["Too few incidents are on record: the weights are the declared ones in every reach."]
      : ["An incident that nobody recorded counts as none where the weights are estimated."]),
  ];
}

function rankingFigure(zones: readonly InventoryZone[]): Figure {
  const first = zones.slice(0, SHOWN);
  const [strongest] = first;
  const title = `The strongest evidence is in ${strongest?.reach ?? "no reach"}`;
  const spec = rankingSpec({
    title,
    subtitle: `The first ${first.length} of ${zones.length} zones`,
    scoreLabel: "Score (log odds)",
    zones: first.map((zone) => ({
      name: zoneName(zone),
      score: zone.score,
      band: zone.band,
      probability: zone.probability,
      contributions: Object.entries(JSON.parse(zone.contributions) as Record<string, number>).map(
        ([name, value]) => ({ name, value }),
      ),
    })),
  });
  const caption =
    "Bars are what each piece of evidence adds to the log odds or takes from them; the tick is the " +
    "score with its starting odds.";
  return { id: "inventory-ranking", title, caption, spec };
}

function movesFigure(zones: readonly InventoryZone[]): Figure {
  const shown = zones.slice(0, MOVES);
  const moved = shown.filter(({ rank, rank_alone }) => rank !== rank_alone).length;
  const title = `${moved} of ${shown.length} zones change their rank when all incidents count together`;
  const spec = curveSpec({
    title,
    columns: 1,
    x: { label: "Rank by the reaches' own scores", scale: "linear", withZero: true },
    y: { label: "Rank over all reaches", scale: "linear", downward: true },
    plots: [
      {
        label: "",
        series: [
          {
            name: "zone, with 80 % of its ranks",
            form: "points",
            x: shown.map(({ rank_alone }) => rank_alone),
            y: shown.map(({ rank }) => rank),
            lo: shown.map(({ rank_lo }) => rank_lo),
            hi: shown.map(({ rank_hi }) => rank_hi),
          },
        ],
      },
    ],
  });
  const caption =
    `The first ${shown.length} zones. A zone on the rising diagonal keeps its rank; bars are 80 % of ` +
    "its ranks under weights drawn from their uncertainty: zones whose bars overlap are not told apart.";
  return { id: "inventory-rank-moves", title, caption, spec };
}

function rankingTable(zones: readonly InventoryZone[]): Table {
  return {
    id: "inventory-ranking-table",
    caption: `The first ${Math.min(SHOWN, zones.length)} zones of all reaches`,
    columns: [
      { field: "rank", label: "Rank", digits: 0 },
      { field: "range", label: "80 % of ranks" },
      { field: "reach", label: "Reach" },
      { field: "from_m", label: "From (m)", digits: 0 },
      { field: "to_m", label: "To (m)", digits: 0 },
      { field: "band", label: "Band" },
      { field: "among_first_ten", label: "Among the first ten", digits: 2 },
      { field: "rank_alone", label: "Rank by own scores", digits: 0 },
    ],
    rows: zones.slice(0, SHOWN).map((zone) => ({
      ...{ rank: zone.rank, range: `${zone.rank_lo}–${zone.rank_hi}`, reach: zone.reach },
      ...{ from_m: zone.from_m, to_m: zone.to_m, band: zone.band },
      ...{ among_first_ten: zone.among_first_ten, rank_alone: zone.rank_alone },
    })),
  };
}
