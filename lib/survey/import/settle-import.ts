import type { SurveyProperties } from "../read/package/descriptor.js";
import { type Answers, Enquiry, type Question, type Settled } from "./enquiry.js";
import type { RawFile } from "./raw-file.js";
import { settleSurvey } from "./settle-survey.js";
import { settleTable, type TablePlan } from "./settle-table.js";
import { tableSource } from "./table-source.js";

/** What raw files are read into. */
export interface ImportTarget {
  /** The survey folder's name. */
  readonly name: string;
  /** Answers of imports before into the same folder; of a new one none. */
  readonly earlier: Answers;
  /** The folder has a centreline, and a survey description, already. */
  readonly isThere: boolean;
}

/** How raw files are read: complete where nothing is open. */
export interface ImportPlan {
  readonly tables: readonly TablePlan[];
  /** GeoJSON of the centreline, taken as it is. */
  readonly geojson: RawFile | null;
  /** The centreline is to be made from the first walk. */
  readonly isFromWalk: boolean;
  readonly survey: SurveyProperties;
}

/** What is known of raw files, what is open, and why some cannot be read. */
export interface ImportProposal {
  readonly plan: ImportPlan;
  readonly questions: readonly Question[];
  readonly settled: readonly Settled[];
  readonly faults: readonly string[];
  /** Keys of answers that nothing asks for. */
  readonly unused: readonly string[];
}

/**
 * Tells how raw files of loggers are to be read. What the content leaves no doubt of is settled;
 * all else is a question, with a guess where there is one and what it rests on.
 */
export function settleImport(
  files: readonly RawFile[],
  answers: Answers,
  target: ImportTarget,
): ImportProposal {
  const enquiry = new Enquiry(answers, target.earlier);
  const geojson = files.filter(({ name }) => /\.(geo)?json$/i.test(name));
  const sources = files
    .filter((file) => !geojson.includes(file))
    .flatMap((file) => tableSource(file, enquiry) ?? []);
  const tables = sources.flatMap((source) => settleTable(source, enquiry) ?? []);
  checkRoles(tables, geojson, target, enquiry);
  const isAsked = !target.isThere && sources.length > 0;
  const isFromWalk = isAsked && settleCentreline(tables, geojson, enquiry);
  const survey = target.isThere ? {} : settleSurvey(target.name, enquiry);
  const { questions, settled, faults, unused } = enquiry;
  const crs = settled.findLast(({ key }) => key === "crs" || key.endsWith(": crs"))?.value;
  const crsDefinition = settled.find(({ key }) => key === "crs definition")?.value;
  const grid = {
    ...(crs && { crs: Number(crs.replace(/\D/g, "")) }),
    ...(crsDefinition && { crsDefinition }),
  };
  const plan = { tables, geojson: geojson[0] ?? null, isFromWalk, survey: { ...survey, ...grid } };
  return { plan, questions, settled, faults, unused };
}

function checkRoles(
  tables: readonly TablePlan[],
  geojson: readonly RawFile[],
  { isThere }: ImportTarget,
  enquiry: Enquiry,
): void {
  const lines = [
    ...geojson.map(({ name }) => name),
    ...tables.filter(({ role }) => role === "centreline").map(({ source }) => source.file.name),
  ];
  if (isThere && lines.length > 0) {
    enquiry.fault(`${lines.join(", ")}: must not be a centreline, got one; the survey has its own`);
  } else if (lines.length > 1) {
    enquiry.fault(`${lines.join(", ")}: must be one centreline, got ${lines.length}`);
  }
  const isOpen = enquiry.questions.some(({ isOptional }) => !isOptional);
  const isKnown = enquiry.faults.length === 0 && !isOpen;
  if (!isThere && isKnown && !tables.some(({ role }) => role === "readings")) {
    enquiry.fault(
      'readings: must be in one of the files, got none (say which: "FILE: role = readings")',
    );
  }
}

/** True where the centreline is to be made from the walk, which the user has to ask for. */
function settleCentreline(
  tables: readonly TablePlan[],
  geojson: readonly RawFile[],
  enquiry: Enquiry,
): boolean {
  if (geojson.length > 0 || tables.some(({ role }) => role === "centreline")) return false;
  const answer = enquiry.settle({
    name: "centreline",
    ask: 'No file is a centreline. Shall it be made "from the walk"? Else give its file with --from.',
    guess: null,
    why:
      "a line made from the walk errs as its positions do, and chainages from it are not those of " +
      "the bank's owner",
    choices: ["from the walk"],
  });
  return answer !== null;
}
