import type {
  FileRecord,
  ImportedSurvey,
  RowAccount,
  Settled,
  SurveyCheck,
} from "../../../lib/index.js";

export interface ImportNotes {
  readonly isFromWalk: boolean;
  /** Answers that nothing asked for. */
  readonly unused: readonly string[];
  readonly settled: readonly Settled[];
}

/** What an import did, file by file. */
export function importText(
  { records, campaigns, centreline }: ImportedSurvey,
  { isFromWalk, unused, settled }: ImportNotes,
): readonly string[] {
  return [
    ...records.flatMap(fileLines),
    ...(campaigns.length > 0 ? [`campaign ${campaigns.join(", ")}`] : []),
    ...(centreline !== null && isFromWalk
      ? [
          "centreline.geojson is made from the walk: it errs as its positions do, offsets from the " +
            "crest are lost, and chainages are not those of the bank's owner. Replace it when you can.",
        ]
      : []),
    ...earlierLines(settled),
    ...unused.map((key) => `the answer to "${key}" was not used`),
  ];
}

/** What was taken over from an import before, which may not hold of this one. */
function earlierLines(settled: readonly Settled[]): readonly string[] {
  const taken = settled.filter(({ because }) => because === "as in the import before");
  if (taken.length === 0) return [];
  return [
    `taken as in the import before: ${taken.map(({ key, value }) => `${key} = ${value}`).join("; ")}`,
  ];
}

function fileLines({ raw, written, rows, leftOut = [] }: FileRecord): readonly string[] {
  const left = leftOut.length === 0 ? "" : `; columns left out: ${leftOut.join(", ")}`;
  const read = rows === undefined ? "as it is" : `${counted(rows.read)} rows read${left}`;
  return [
    `${raw} -> ${written.join(", ")}: ${read}`,
    ...(rows === undefined ? [] : lostLines(rows)),
  ];
}

const SHOWN_LETTERS = 60;

function lostLines({ notRead, blanked }: RowAccount): readonly string[] {
  return [
    ...notRead.map(
      ({ what, count, rows }) => `  not read: ${counted(count)} with ${what}, row ${cut(rows)}`,
    ),
    ...blanked.map(
      ({ field, what, count, rows }) =>
        `  left blank in ${field}: ${counted(count)} with ${what}, row ${cut(rows)}`,
    ),
  ];
}

const counted = (count: number) => count.toLocaleString("en");

const cut = (rows: string) =>
  rows.length > SHOWN_LETTERS ? `${rows.slice(0, SHOWN_LETTERS).replace(/,[^,]*$/, "")}, …` : rows;

/** What a check of the folder found, in a line, and what to do next. */
export function nextText(folder: string, { faults, cautions }: SurveyCheck): readonly string[] {
  const shown = /[^\w./-]/.test(folder) ? `"${folder}"` : folder;
  const found = `${counted(faults.length)} fault${faults.length === 1 ? "" : "s"}, ${counted(cautions.length)} caution${cautions.length === 1 ? "" : "s"}`;
  const next =
    faults.length > 0
      ? `Next: put right what is named, then "banquette check ${shown}".`
      : `Next: "banquette check ${shown}" tells what each step has to work with; "banquette appendix ${shown}" makes the appendix.`;
  return [`checked: ${found}`, next];
}
