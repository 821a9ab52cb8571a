import { median } from "../../numerics/robust.js";
import { placementCautions } from "../../place/cautions.js";
import { coregistrationTables } from "../../place/coregister/tables.js";
import { coverageOf, type PassCoverage } from "../../place/coverage/coverage.js";
import { OPEN_SURVEY_DEFAULTS } from "../../place/open-options.js";
import { placeDefaults } from "../../place/options.js";
import { placeSurvey } from "../../place/place-survey.js";
import { pegTables } from "../../place/tables.js";
import type { Table } from "../../step/figure.js";
import type { SurveyFault } from "../../survey/check/faults.js";
import { utcText } from "../../survey/iso-time.js";
import { type LoadedSurvey, loadSurvey, type ReadProgress } from "../../survey/read/load-survey.js";
import type { CsvTable } from "../../survey/read/table/csv-table.js";
import type { Pass } from "../../survey/survey.js";
import type { StepReadiness } from "../readiness.js";
import { standardChain } from "../standard-chain.js";

/** What `banquette check` reports of a survey folder. */
export interface SurveyCheck {
  /** Every fault of every file; empty where the survey can be opened. */
  readonly faults: readonly SurveyFault[];
  readonly cautions: readonly string[];
  /** What is there, by CSV resource. */
  readonly summary: readonly ResourceSummary[];
  /** What each step will have to work with; empty without a usable centreline. */
  readonly steps: readonly StepReadiness[];
  /** How each pass covers the bank; empty without a usable centreline. */
  readonly coverage: readonly PassCoverage[];
  /** How the passes agree with each other and with the pegs; empty where nothing was compared. */
  readonly placing: readonly Table[];
}

export interface ResourceSummary {
  readonly file: string;
  readonly role: string;
  readonly campaign: string | null;
  /** Data rows, faulty ones included. */
  readonly rows: number;
  /** First and last time, UTC; null where the file has none. */
  readonly from: string | null;
  readonly to: string | null;
  /** Stretch covered and median step between readings, m; null for files other than readings. */
  readonly chainageFrom_m: number | null;
  readonly chainageTo_m: number | null;
  readonly spacing_m: number | null;
}

export interface CheckOptions {
  /** Told while the files are read: the file's path and the share of it read, 0 to 1. */
  readonly progress?: ReadProgress;
}

/**
 * Reads a survey folder and reports every fault in it, what is there, and what each step will have
 * to work with. Never throws on bad data and writes nothing. Rules: the contract's section 1, Data
 * Package v1, Table Schema v1, RFC 7946.
 */
export async function checkSurvey(
  folder: string,
  { progress }: CheckOptions = {},
): Promise<SurveyCheck> {
  const { farFromCentreline_m } = OPEN_SURVEY_DEFAULTS;
  return checkOf(await loadSurvey(folder, { farFromCentreline_m, progress }));
}

export function checkOf(loaded: LoadedSurvey): SurveyCheck {
  const { faults, tables } = loaded;
  const { survey, placements } = placed(loaded);
  const passes = (survey?.campaigns ?? []).flatMap((campaign) => campaign.passes);
  const summary = tables.map((table) =>
    summaryOf(
      table,
      passes.find(({ file }) => file === table.file),
    ),
  );
  const placing = placements.flatMap((one) => placementCautions(one, placeDefaults));
  const cautions = [...loaded.cautions, ...placing];
  if (survey === null) return { faults, cautions, summary, steps: [], coverage: [], placing: [] };
  const coverage = coverageOf(survey, placements);
  const tablesOfPlacing = [...coregistrationTables(placements), ...pegTables(placements)];
  const steps = standardChain.readiness(survey);
  return { faults, cautions, summary, steps, coverage, placing: tablesOfPlacing };
}

/** The survey placed by the defaults, as far as it could be read. */
function placed({ survey }: LoadedSurvey) {
  return survey === null ? { survey, placements: [] } : placeSurvey(survey, placeDefaults);
}

function summaryOf(table: CsvTable, pass: Pass | undefined): ResourceSummary {
  const { role, campaign = null } = table.resource;
  const times = span(table.numbers("time"));
  const chainages = span(pass?.chainage_m ?? new Float64Array());
  const spacing_m = pass === undefined ? Number.NaN : median(steps_m(pass));
  return {
    file: table.file,
    role,
    campaign,
    rows: table.count,
    from: utcText(times.first),
    to: utcText(times.last),
    chainageFrom_m: orNull(chainages.first),
    chainageTo_m: orNull(chainages.last),
    spacing_m: orNull(spacing_m),
  };
}

function steps_m({ easting_m: x, northing_m: y }: Pass): Float64Array {
  return x.slice(1).map((east, i) => Math.hypot(east - x[i]!, y[i + 1]! - y[i]!));
}

function span(values: Float64Array): { readonly first: number; readonly last: number } {
  const present = values.filter((value) => !Number.isNaN(value)).sort();
  return { first: present[0] ?? Number.NaN, last: present.at(-1) ?? Number.NaN };
}

function orNull(value: number): number | null {
  return Number.isNaN(value) ? null : value;
}
