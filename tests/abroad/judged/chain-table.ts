import type { ChainJudged } from "./judge-chain.js";

const HEAD = [
  "ground × instrument".padEnd(50),
  "boundaries",
  "false",
  "changes",
  "false",
  "false at rest",
].join("  ");

/** Counts over surveys, found of true ones: one line for each group of judged chains. */
export function chainTable(groups: ReadonlyMap<string, readonly ChainJudged[]>): string {
  return [HEAD, ...[...groups].map(([name, judged]) => rowText(name, judged))].join("\n");
}

function rowText(name: string, judged: readonly ChainJudged[]): string {
  const total = (of: (one: ChainJudged) => number) => judged.reduce((sum, one) => sum + of(one), 0);
  const boundaries = `${total((one) => one.boundaries.found)} of ${total((one) => one.boundaries.true)}`;
  const changes = `${total((one) => one.changes.found)} of ${total((one) => one.changes.true)}`;
  return [
    name.padEnd(50),
    boundaries.padStart(10),
    String(total((one) => one.boundaries.falseBoundaries)).padStart(5),
    changes.padStart(7),
    String(total((one) => one.changes.falseStretches)).padStart(5),
    String(total((one) => one.falseAtRest)).padStart(13),
  ].join("  ");
}
