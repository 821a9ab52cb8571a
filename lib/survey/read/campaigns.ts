import { groupedBy } from "../../numerics/arrays.js";
import { listText } from "../../step/list-text.js";
import type { BaseCheck, Campaign } from "../campaign.js";
import { checkCampaignDays, noteLabelMonth } from "../check/campaign-days.js";
import type { FaultLog } from "../check/faults.js";
import {
  noteFarChecks,
  noteOtherSize,
  noteUncheckedChannels,
} from "../check/plausible-base-checks.js";
import { checkRepeatedWalks } from "../check/repeated-walks.js";
import { noteSimilarNames } from "../check/similar-names.js";
import { noteReach } from "../check/walk/walked-places.js";
import { utcText } from "../iso-time.js";
import type { SoilTemperature } from "../monitoring.js";
import type { FieldNote } from "../notes.js";
import type { Pass } from "../pass.js";
import { timeSpan } from "../time-span.js";
import type { Frame } from "./frame/locate.js";
import { checkDay, readBaseChecks } from "./read-base-checks.js";
import { readSoilTemperature } from "./read-ground.js";
import { readPass } from "./read-readings.js";
import type { CsvTable } from "./table/csv-table.js";

interface CampaignParts {
  readonly readings: readonly CsvTable[];
  readonly baseChecks: readonly CsvTable[];
  readonly temperature: readonly CsvTable[];
  readonly notes: readonly FieldNote[];
  readonly frame: Frame | null;
}

/**
 * Groups what was measured by campaign, sorted by first reading; the readings have yet to be placed
 * along the bank. Empty without a centreline.
 */
export function assembleCampaigns(parts: CampaignParts, log: FaultLog): readonly Campaign[] {
  const { readings, temperature, notes, frame } = parts;
  const labelled = readings.map((table) => ({
    label: labelOf(table),
    pass: readPass(table, frame, log),
  }));
  for (const own of groupedBy(readings, labelOf).values()) checkCampaignDays(own, log);
  checkRepeatedWalks(readings, log);
  for (const table of readings) noteLabelMonth(table, log);
  noteNames(readings, log);
  for (const table of temperature) noteFarTemperatures(table, readings, log);
  const checks = checksByLabel(parts, log);
  if (frame === null) return [];
  noteReach(
    labelled.flatMap(({ pass }) => pass ?? []),
    frame.centreline,
    log,
  );
  return [...new Set(labelled.map(({ label }) => label))]
    .map((label): Campaign => {
      const own = labelled.filter((one) => one.label === label);
      const passes = own.flatMap(({ pass }) => pass ?? []);
      return {
        label,
        passes,
        baseChecks: checks.get(label) ?? [],
        notes: notes.filter(({ campaign }) => campaign === null || campaign === label),
        soilTemperature: temperatureOf(label, passes, temperature),
        causes: [],
        centreline: frame.centreline,
      };
    })
    .filter((campaign) => campaign.passes.length > 0)
    .sort(byFirstReading);
}

/** Notes campaigns and lines that may be one under two spellings. */
function noteNames(readings: readonly CsvTable[], log: FaultLog): void {
  const lines = readings.flatMap((table) => [...new Set(table.texts("line"))]);
  const files = listText(readings.map(({ file }) => file));
  noteSimilarNames(lines, { file: files, what: "lines" }, log);
  noteSimilarNames(readings.map(labelOf), { file: files, what: "campaigns" }, log);
}

/** The resource's campaign, else the month of its first reading, else "1". */
export function labelOf(table: CsvTable): string {
  const first = table.numbers("time").find((time) => !Number.isNaN(time));
  return table.resource.campaign ?? utcText(first ?? Number.NaN)?.slice(0, 7) ?? "1";
}

function checksByLabel(
  { readings, baseChecks }: CampaignParts,
  log: FaultLog,
): ReadonlyMap<string, readonly BaseCheck[]> {
  const found = new Map<string, readonly BaseCheck[]>();
  for (const own of groupedBy(baseChecks, ({ resource }) => resource.campaign).values()) {
    noteUncheckedChannels(own, log);
  }
  for (const table of baseChecks) {
    const checks = readBaseChecks(table, table.resource.instrument?.channels ?? [], log);
    const own = readings.filter(({ resource }) => resource.campaign === table.resource.campaign);
    if (own[0] === undefined) continue;
    const span = timeSpan(own.map((one) => ({ time_s: one.numbers("time") })));
    checkDay(table, span, log);
    noteFarChecks(table, span, log);
    noteOtherSize(table, own, log);
    const label = labelOf(own[0]);
    const all = [...(found.get(label) ?? []), ...checks];
    found.set(
      label,
      all.sort((one, other) => one.time_s - other.time_s),
    );
  }
  return found;
}

// Soil temperatures of a file that names no campaign serve the campaigns within this time, s.
const NEAR_S = 31 * 86400;

/** Notes soil temperatures none of which is of a campaign's season. */
function noteFarTemperatures(table: CsvTable, readings: readonly CsvTable[], log: FaultLog): void {
  const { first_s, last_s } = timeSpan([{ time_s: table.numbers("time") }]);
  const near = readings.some((one) => {
    const span = timeSpan([{ time_s: one.numbers("time") }]);
    return !(last_s < span.first_s - 2 * NEAR_S || first_s > span.last_s + 2 * NEAR_S);
  });
  if (near || Number.isNaN(first_s)) return;
  log.caution(`${table.file}: no temperature within two months of the readings`);
}

/**
 * The campaign's own soil temperatures, and of files that name no campaign the rows within a month
 * of its readings (all of them where none is so near).
 */
function temperatureOf(
  label: string,
  passes: readonly Pass[],
  tables: readonly CsvTable[],
): readonly SoilTemperature[] {
  const of = (campaign: string | undefined) =>
    tables.filter(({ resource }) => resource.campaign === campaign).flatMap(readSoilTemperature);
  const shared = of(undefined);
  const { first_s, last_s } = timeSpan(passes);
  const near = shared.filter(
    ({ time_s }) => time_s >= first_s - NEAR_S && time_s <= last_s + NEAR_S,
  );
  return [...of(label), ...(near.length > 0 ? near : shared)];
}

/** Campaigns without times come last, by label. */
function byFirstReading(one: Campaign, other: Campaign): number {
  const [a, b] = [one, other].map(({ passes }) => timeSpan(passes).first_s) as [number, number];
  if (Number.isNaN(a) !== Number.isNaN(b)) return Number.isNaN(a) ? 1 : -1;
  return a - b || (one.label < other.label ? -1 : 1);
}
