import type { ChangeJudged } from "./judge-change.js";

const HEAD = [
  "ground × instrument".padEnd(50),
  "found",
  "false stretches",
  "held, too low, too high",
  "slices held",
  "offsets",
].join("  ");

/** Counts over pairs of campaigns, one line for each group. */
export function changeTable(groups: ReadonlyMap<string, readonly ChangeJudged[]>): string {
  return [HEAD, ...[...groups].map(([name, judged]) => rowText(name, judged))].join("\n");
}

function rowText(name: string, judged: readonly ChangeJudged[]): string {
  const total = (of: (one: ChangeJudged) => number) =>
    judged.reduce((sum, one) => sum + of(one), 0);
  const count = (side: ChangeJudged["headline"]) =>
    judged.filter(({ headline }) => headline === side).length;
  const pairs = judged.filter(({ score }) => score.falseStretches > 0).length;
  const found = `${total(({ score }) => score.found)} of ${total(({ score }) => score.true)}`;
  const held = `${count("held")}, ${count("too low")}, ${count("too high")}`;
  return [
    name.padEnd(50),
    found.padStart(5),
    `in ${pairs} of ${judged.length}`.padStart(15),
    held.padStart(23),
    `${total((one) => one.slicesHeld)} of ${total((one) => one.slices)}`.padStart(11),
    String(total((one) => one.offsets)).padStart(7),
  ].join("  ");
}
