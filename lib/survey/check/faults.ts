import type { Fault } from "../../step/step-error.js";

/** One fault of a survey folder, with its place. */
export interface SurveyFault {
  /** A short stable code, such as "not-a-number". */
  readonly code: string;
  /** The file's path within the folder. */
  readonly file: string;
  /** Line number in the file, the header being line 1; null for the whole file. */
  readonly row: number | null;
  /** The column, or the property's path in datapackage.json; null for the whole row or file. */
  readonly field: string | null;
  /** The rule that was broken, to be read after "must be". */
  readonly rule: string;
  /** What was found, as text; text from a cell in quotes. */
  readonly value: string;
  /** A likely cause, where one can be guessed. */
  readonly hint: string | null;
  /** Further faults of the same kind in the same file and field that are counted, not listed. */
  readonly more: number;
}

/** Faults of one code in one file and field that are listed; the rest is counted. */
export const LISTED_FAULTS = 20;

type NewFault = Omit<SurveyFault, "row" | "field" | "hint" | "more"> &
  Partial<Pick<SurveyFault, "row" | "field" | "hint">>;

interface Group {
  readonly listed: SurveyFault[];
  more: number;
  /** The row added last: rows come in order, so it alone shows a place among those counted. */
  last: number | null;
}

function isListed({ listed, last }: Group, row: number): boolean {
  return row === last || listed.some((fault) => fault.row === row);
}

/** Collects faults and cautions over all files of a folder; a fault of one place is listed once. */
export class FaultLog {
  readonly #groups = new Map<string, Group>();
  readonly #cautions = new Set<string>();

  add(fault: NewFault): void {
    const full = { row: null, field: null, hint: null, more: 0, ...fault };
    const key = JSON.stringify([full.file, full.field, full.code]);
    const group = this.#groups.get(key) ?? { listed: [], more: 0, last: null };
    this.#groups.set(key, group);
    if (full.row !== null && isListed(group, full.row)) return;
    group.last = full.row;
    if (group.listed.length < LISTED_FAULTS) group.listed.push(full);
    else group.more += 1;
  }

  caution(text: string): void {
    this.#cautions.add(text);
  }

  get cautions(): readonly string[] {
    return [...this.#cautions];
  }

  /** In the order of the files, and of the rows within one kind of fault. */
  get faults(): readonly SurveyFault[] {
    return [...this.#groups.values()].flatMap(({ listed, more }) =>
      listed.map((fault, i) => (i === listed.length - 1 ? { ...fault, more } : fault)),
    );
  }
}

/** How many faults there are, those that are counted and not listed included. */
export function faultCount(faults: readonly SurveyFault[]): number {
  return faults.reduce((sum, { more }) => sum + 1 + more, 0);
}

/** One line: `readings.csv row 214, field q_4k_hcp: must be a number, got "n/a"`. */
export function faultLine(fault: SurveyFault): string {
  const hint = fault.hint === null ? "" : ` (${fault.hint})`;
  return `${faultPlace(fault)}: must be ${fault.rule}, got ${fault.value}${hint}${moreText(fault)}`;
}

/** The fault as a `StepError` carries it; the survey's own properties stay on it. */
export function asStepFault(fault: SurveyFault): Fault & SurveyFault {
  const received = `${fault.value}${moreText(fault)}`;
  const { hint, ...rest } = fault;
  const step = { ...rest, path: faultPlace(fault), expected: fault.rule, received };
  return (hint === null ? step : { ...step, hint }) as Fault & SurveyFault;
}

function moreText({ more }: SurveyFault): string {
  return more === 0 ? "" : `, and ${more.toLocaleString("en")} more like it`;
}

function faultPlace(fault: SurveyFault): string {
  const row = fault.row === null ? "" : ` row ${fault.row}`;
  const field = fault.field === null ? "" : `, field ${fault.field}`;
  return `${fault.file}${row}${field}`;
}
