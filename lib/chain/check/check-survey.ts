import { valueAt } from "../../numerics/arrays.js";
import { extent, orNull } from "../../numerics/statistics/present.js";
import { median } from "../../numerics/statistics/robust.js";
import { placementCautions } from "../../place/cautions.js";
import { coregistrationTables } from "../../place/coregister/tables.js";
import { coverageOf, type PassCoverage } from "../../place/coverage/coverage.js";
import { lineCautions, lineTables } from "../../place/lines/account.js";
import { OPEN_SURVEY_DEFAULTS } from "../../place/open-options.js";
import { placeDefaults } from "../../place/options.js";
import { placeSurvey } from "../../place/place-survey.js";
import { pegTables } from "../../place/tables.js";
import type { Table } from "../../step/figure.js";
import { campaignsOfAllLines } from "../../survey/all-lines.js";
import type { SurveyFault } from "../../survey/check/faults.js";
import { diagnoseChannels } from "../../survey/consistency/diagnose-channels.js";
import { restlessLine, restlessText } from "../../survey/consistency/restless-line.js";
import { diagnosisText } from "../../survey/consistency/sentences.js";
import { utcText } from "../../survey/iso-time.js";
import { loadSurvey, type ReadProgress } from "../../survey/read/load-survey.js";
import type { CsvTable } from "../../survey/read/table/csv-table.js";
import type { Pass, Survey } from "../../survey/survey.js";
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
  /** Called while the files are read: the file's path and the share of it read, 0 to 1. */
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
  const { survey: read, ...loaded } = await loadSurvey(folder, { farFromCentreline_m, progress });
  const { faults, tables } = loaded;
  if (read === null) {
    const summary = tables.map((table) => summaryOf(table, null));
    return { faults, cautions: loaded.cautions, summary, steps: [], coverage: [], placing: [] };
  }
  const { survey, placements, lines } = placeSurvey(read, placeDefaults);
  const passes = campaignsOfAllLines(survey).flatMap((campaign) => campaign.passes);
  const placing = [
    ...lineCautions(lines),
    ...placements.flatMap((one) => placementCautions(one, placeDefaults)),
  ];
  return {
    faults,
    cautions: [...loaded.cautions, ...placing, ...channelCautions(survey)],
    summary: tables.map((table) =>
      summaryOf(table, passes.find(({ file }) => file === table.file) ?? null),
    ),
    steps: standardChain.readiness(survey),
    coverage: coverageOf(survey, placements),
    placing: [...lineTables(lines), ...coregistrationTables(placements), ...pegTables(placements)],
  };
}

/** What physics says of the instrument's description, campaign by campaign. */
function channelCautions(survey: Survey): readonly string[] {
  const lines = [
    { name: "", campaigns: survey.campaigns },
    ...(survey.otherLines ?? []).map(({ line, survey: { campaigns } }) => {
      return { name: `${line}, `, campaigns };
    }),
  ];
  return lines.flatMap(({ name, campaigns }) =>
    campaigns.flatMap((campaign) => {
      const restless = restlessLine(campaign);
      const texts = [
        diagnosisText(diagnoseChannels(campaign)),
        restless === null ? null : restlessText(restless),
      ];
      return texts.flatMap((text) => (text === null ? [] : [`${name}${campaign.label}: ${text}`]));
    }),
  );
}

function summaryOf(table: CsvTable, pass: Pass | null): ResourceSummary {
  const { role, campaign = null } = table.resource;
  const times = extent(table.numbers("time"));
  const chainages = extent(pass?.chainage_m ?? []);
  return {
    file: table.file,
    role,
    campaign,
    rows: table.count,
    from: utcText(times.least),
    to: utcText(times.most),
    chainageFrom_m: orNull(chainages.least),
    chainageTo_m: orNull(chainages.most),
    spacing_m: pass && orNull(median(steps_m(pass))),
  };
}

function steps_m({ easting_m: x, northing_m: y }: Pass): Float64Array {
  const step = (east: number, i: number) =>
    Math.hypot(east - valueAt(x, i), valueAt(y, i + 1) - valueAt(y, i));
  return x.slice(1).map(step);
}
