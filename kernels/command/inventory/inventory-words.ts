import type { GatheredInventory, GatheredReach } from "../../../lib/index.js";

/** What a run came to, for standard output. */
export function inventoryWords(gathered: GatheredInventory, out: string): string {
  const { reaches, classes, weights, ranking, holes } = gathered;
  const found = reaches.flatMap((one) => one.found ?? []);
  const km = found.reduce((sum, { length_m }) => sum + length_m, 0) / 1000;
  const weighed =
    weights.from === "incidents"
      ? `weights of evidence from ${weights.incidents} recorded incidents`
      : `declared weights of evidence (${weights.incidents} incidents on record are too few)`;
  return [
    `${found.length} of ${reaches.length} reaches interpreted, ${km.toFixed(1)} km.`,
    `${classes.blocks.length} blocks in ${classes.classes.length} classes of ground; ` +
      `${ranking.length} seepage zones ranked, ${weighed}.`,
    ...ranking.slice(0, 5).map((zone) => {
      const [low, high] = zone.rankRange;
      const place = `${zone.from_m.toFixed(0)}–${zone.to_m.toFixed(0)} m`;
      return `  ${zone.rank}. ${zone.reach} ${place}, ${zone.band} (rank ${low}–${high})`;
    }),
    `${holes.length} boreholes proposed over all reaches.`,
    `Written to ${out}: inventory.html and .ipynb (the report), tables/ (Parquet; schema.json tells ` +
      "the columns), classes.json.",
  ].join("\n");
}

/** One line a reach that came to nothing. */
export function failedReaches(reaches: readonly GatheredReach[]): readonly string[] {
  return reaches
    .filter(({ found }) => found === null)
    .map(({ reach, state, why }) => {
      const more = why.length > 1 ? ` (and ${why.length - 1} more)` : "";
      return `${reach.reach} (${reach.folder}): ${state}: ${why[0] ?? "no reason told"}${more}`;
    });
}
