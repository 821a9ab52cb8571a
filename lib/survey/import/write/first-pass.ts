import { GrowingNumbers } from "../../read/table/growing.js";
import { readRows } from "../read-rows.js";
import { type RowAccount, RowTally } from "../row-tally.js";
import type { TablePlan } from "../settle-table.js";

/** What a table holds, once all of it was read. */
export interface FirstPass {
  readonly plan: TablePlan;
  readonly account: RowAccount;
  /** s since 1970; NaN without times. */
  readonly first_s: number;
  readonly last_s: number;
  /** Rows at which a further walk begins. */
  readonly starts: readonly number[];
  /** n positions of the rows in their order, in the plan's own fields; empty without positions. */
  readonly across: Float64Array;
  readonly along: Float64Array;
}

const BACK_S = 1;

/** Reads a whole table without writing it: its account of rows, its times, its walks, its way. */
export function firstPass(plan: TablePlan): FirstPass {
  const tally = new RowTally();
  const at = (name: string) => plan.fields.findIndex((field) => field.name === name);
  const time = at("time");
  const position = plan.position?.fields.map(at) ?? [];
  const [across, along] = [new GrowingNumbers(Float64Array), new GrowingNumbers(Float64Array)];
  const starts: number[] = [];
  let [first_s, last_s, before_s] = [Number.NaN, Number.NaN, Number.NaN];
  for (const { row, cells } of readRows(plan.source, plan.fields, tally)) {
    const now_s = Date.parse(cells[time] ?? "") / 1000;
    if (!Number.isNaN(now_s)) {
      if (plan.isSplit && now_s < before_s - BACK_S) starts.push(row);
      first_s = first_s <= now_s ? first_s : now_s;
      last_s = last_s >= now_s ? last_s : now_s;
      before_s = now_s;
    }
    const [x, y] = position.map((p) => cells[p] ?? "");
    if (x && y) {
      across.push(Number(x));
      along.push(Number(y));
    }
  }
  const way = { across: across.done(), along: along.done() };
  return { plan, account: tally.done(), first_s, last_s, starts, ...way };
}
