import type { Frame } from "../bank/locate.js";
import type { FaultLog } from "../check/faults.js";
import { utcText } from "../iso-time.js";
import type { BaseCheck, Campaign, FieldNote, Pass, SoilTemperature } from "../survey.js";
import { timeSpan } from "../time-span.js";
import { checkDay, readBaseChecks } from "./read-base-checks.js";
import { readSoilTemperature } from "./read-ground.js";
import { readPass } from "./read-readings.js";
import type { Table } from "./table.js";

interface CampaignParts {
  readonly readings: readonly Table[];
  readonly baseChecks: readonly Table[];
  readonly temperature: readonly Table[];
  readonly notes: readonly FieldNote[];
  readonly frame: Frame | null;
}

/**
 * Groups what was measured by campaign, sorted by first reading; the readings have yet to be placed
 * along the bank. Empty without a centreline.
 */
export function assembleCampaigns(parts: CampaignParts, log: FaultLog): readonly Campaign[] {
  const passes = new Map(parts.readings.map((table) => [table, readPass(table, parts.frame, log)]));
  const labels = new Map(parts.readings.map((table) => [table, labelOf(table)]));
  const checks = checksByLabel(parts, labels, log);
  if (parts.frame === null) return [];
  const { centreline } = parts.frame;
  return [...new Set(labels.values())]
    .map((label): Campaign => {
      const own = parts.readings.filter((table) => labels.get(table) === label);
      const read = own.flatMap((table) => passes.get(table) ?? []);
      return {
        label,
        passes: read,
        baseChecks: checks.get(label) ?? [],
        notes: parts.notes.filter(({ campaign }) => campaign === null || campaign === label),
        soilTemperature: temperatureOf(label, read, parts.temperature),
        causes: [],
        centreline,
      };
    })
    .filter((campaign) => campaign.passes.length > 0)
    .sort(byFirstReading);
}

/** The resource's campaign, else the month of its first reading, else "1". */
export function labelOf(table: Table): string {
  const first = table.numbers("time").find((time) => !Number.isNaN(time));
  return table.resource.campaign ?? utcText(first ?? Number.NaN)?.slice(0, 7) ?? "1";
}

function checksByLabel(
  { readings, baseChecks }: CampaignParts,
  labels: ReadonlyMap<Table, string>,
  log: FaultLog,
): ReadonlyMap<string, readonly BaseCheck[]> {
  const found = new Map<string, readonly BaseCheck[]>();
  for (const table of baseChecks) {
    const own = readings.filter(({ resource }) => resource.campaign === table.resource.campaign);
    const channels = table.resource.instrument?.channels ?? [];
    const label = own[0] && labels.get(own[0]);
    const checks = readBaseChecks(table, channels, log);
    if (label === undefined) continue;
    checkDay(table, timeSpan(own.map((one) => ({ time_s: one.numbers("time") }))), log);
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

/**
 * The campaign's own soil temperatures, and of files that name no campaign the rows within a month
 * of its readings (all of them where none is so near).
 */
function temperatureOf(
  label: string,
  passes: readonly Pass[],
  tables: readonly Table[],
): readonly SoilTemperature[] {
  const own = tables.filter(({ resource }) => resource.campaign === label);
  const shared = tables
    .filter(({ resource }) => resource.campaign === undefined)
    .flatMap(readSoilTemperature);
  const { first_s, last_s } = timeSpan(passes);
  const near = shared.filter(
    ({ time_s }) => time_s >= first_s - NEAR_S && time_s <= last_s + NEAR_S,
  );
  return [...own.flatMap(readSoilTemperature), ...(near.length > 0 ? near : shared)];
}

/** Campaigns without times come last, by label. */
function byFirstReading(one: Campaign, other: Campaign): number {
  const [a, b] = [timeSpan(one.passes).first_s, timeSpan(other.passes).first_s];
  if (Number.isNaN(a) && Number.isNaN(b)) return one.label < other.label ? -1 : 1;
  if (Number.isNaN(a) || Number.isNaN(b)) return Number.isNaN(a) ? 1 : -1;
  return a - b || (one.label < other.label ? -1 : 1);
}
