import { type Judged, WINDOWS_M } from "./judge.js";
import { median } from "./score.js";

/** A row over several surveys. */
export interface CaseRow {
  readonly name: string;
  readonly surveys: number;
  /** Median over surveys. */
  readonly reliableTo_m: number;
  /** Reliable slices a survey, mean. */
  readonly slices: number;
  /** Share of stations held by 80 % intervals: mean over surveys of the mean of reliable slices. */
  readonly held: number;
  /** The reliable slice of a survey that holds least. */
  readonly least: number;
  /** Median over surveys of the median |error| of reliable slices, log10. */
  readonly error: number;
  /** The same of the stated standard deviations. */
  readonly sd: number;
  /** Median over surveys of the error in each of `WINDOWS_M`, reliable or not. */
  readonly windows: readonly number[];
  readonly seconds: number;
}

const mean = (values: readonly number[]) =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

/** Surveys without a reliable slice count in depth, slices and windows alone. */
export function rowOf(name: string, judged: readonly Judged[]): CaseRow {
  const reliable = judged.map(({ slices }) => slices.filter((slice) => slice.reliable));
  const told = reliable.filter((slices) => slices.length > 0);
  const all = told.flat();
  return {
    name,
    surveys: judged.length,
    reliableTo_m: median(judged.map((one) => one.reliableTo_m)),
    slices: mean(reliable.map((slices) => slices.length)),
    held: mean(told.map((slices) => mean(slices.map((slice) => slice.held)))),
    least: Math.min(...all.map((slice) => slice.held)),
    error: median(told.map((slices) => mean(slices.map((slice) => slice.error)))),
    sd: median(told.map((slices) => mean(slices.map((slice) => slice.sd)))),
    windows: WINDOWS_M.map((_, w) => median(judged.map((one) => one.windows[w]!))),
    seconds: mean(judged.map((one) => one.seconds)),
  };
}

const HEAD = [
  "ground × instrument".padEnd(50),
  "reliable to",
  "slices",
  " held",
  "least",
  "|error|",
  "   sd",
  ...WINDOWS_M.map(([from, to]) => `${from}–${to} m`.padStart(9)),
  "    s",
].join("  ");

/** The rows as text: depths in m, errors and deviations in log10(ohm-m). */
export function tableText(rows: readonly CaseRow[]): string {
  return [HEAD, ...rows.map(rowText)].join("\n");
}

function rowText(row: CaseRow): string {
  const share = (value: number) => `${(100 * value).toFixed(0)} %`.padStart(5);
  return [
    row.name.padEnd(50),
    row.reliableTo_m.toFixed(2).padStart(11),
    row.slices.toFixed(1).padStart(6),
    share(row.held),
    share(row.least),
    row.error.toFixed(3).padStart(7),
    row.sd.toFixed(3).padStart(5),
    ...row.windows.map((value) => value.toFixed(3).padStart(9)),
    row.seconds.toFixed(2).padStart(5),
  ].join("  ");
}
