import { quoted } from "../../step/step-error.js";
import type { Borehole, LaboratoryValue, Stratum } from "../borehole.js";
import type { FaultLog } from "../check/faults.js";
import { checkHoles, checkLaboratory, noteStrata } from "../check/ground/holes.js";
import { checkElevations } from "../check/plausible-elevations.js";
import type { CrossSection } from "../cross-section.js";
import { checkChainages } from "./frame/check-chainages.js";
import type { Frame } from "./frame/locate.js";
import type { Role } from "./package/descriptor.js";
import type { CsvRow, CsvTable } from "./table/csv-table.js";

interface BoreholeTables {
  readonly boreholes: readonly CsvTable[];
  readonly strata: readonly CsvTable[];
  readonly laboratory: readonly CsvTable[];
  /** False where a file of the role could not be read, or not its field. */
  readonly complete: (role: Role, field: string) => boolean;
  readonly crossSectionAt: (chainage_m: number) => CrossSection;
}

type Hole = Omit<Borehole, "strata" | "laboratory">;

// Depths are logged to the centimetre; strata may touch within rounding.
const ROUNDING_M = 0.005;

/** Boreholes with their strata and laboratory values, in file order, strata from the top down. */
export function readBoreholes(tables: BoreholeTables, frame: Frame, log: FaultLog) {
  const holes = tables.boreholes.flatMap((table) => holesOf(table, frame, log));
  for (const table of tables.boreholes) {
    checkElevations(table, tables.crossSectionAt, log);
    checkHoles(table, log);
  }
  for (const table of tables.strata) noteStrata(table, log);
  for (const table of tables.laboratory) checkLaboratory(table, log);
  const strataRows = tables.strata.flatMap(({ rows }) => rows);
  const sampleRows = tables.laboratory.flatMap(({ rows }) => rows);
  if (tables.complete("boreholes", "borehole")) {
    const names = new Set(holes.map(({ borehole }) => borehole));
    for (const row of [...strataRows, ...sampleRows]) checkHole(row, names, log);
  }
  for (const row of strataRows) checkTop(row, log);
  for (const row of sampleRows) checkSample(row, holes, log);
  return holes.map((hole): Borehole => {
    const isOwn = (row: CsvRow) => row.text("borehole") === hole.borehole;
    const own = strataRows.filter(isOwn).map((row) => ({ row, stratum: stratumOf(row) }));
    own.sort((one, other) => one.stratum.top_m - other.stratum.top_m);
    checkOverlaps(own, log);
    checkDepths(hole, own, log);
    return {
      ...hole,
      strata: own.map(({ stratum }) => stratum),
      laboratory: sampleRows.filter(isOwn).map(laboratoryValueOf),
    };
  });
}

function holesOf(table: CsvTable, frame: Frame, log: FaultLog): readonly Hole[] {
  checkChainages(table, ["chainage_m"], { frame, log });
  const names = table.texts("borehole");
  return table.rows.map((row, i) => {
    const borehole = row.text("borehole");
    if (borehole !== "" && names.indexOf(borehole) !== i) {
      const value = quoted(borehole);
      log.add({ code: "duplicate-borehole", ...row.place("borehole"), rule: "given once", value });
    }
    return { borehole, ...row.numbers("chainage_m", "offset_m", "elevation_m", "depth_m") };
  });
}

function stratumOf(row: CsvRow): Stratum {
  return { ...row.numbers("top_m", "base_m"), ...row.texts("soil", "description") };
}

function laboratoryValueOf(row: CsvRow): LaboratoryValue {
  return {
    ...row.numbers("depth_m"),
    ...row.numbersOrNull("fines_pct", "water_content_pct"),
    ...row.numbersOrNull("hydraulic_conductivity_m_per_s", "resistivity_ohm_m"),
  };
}

function checkTop(row: CsvRow, log: FaultLog): void {
  const { top_m, base_m } = row.numbers("top_m", "base_m");
  if (!(top_m >= base_m)) return;
  const rule = `above base_m (top_m < ${base_m})`;
  log.add({ code: "stratum-reversed", ...row.place("top_m"), rule, value: String(top_m) });
}

interface StratumRow {
  readonly row: CsvRow;
  readonly stratum: Stratum;
}

function checkOverlaps(strata: readonly StratumRow[], log: FaultLog): void {
  for (const [i, { row, stratum }] of strata.entries()) {
    const above = strata[i - 1];
    if (above === undefined || !(stratum.top_m < above.stratum.base_m - ROUNDING_M)) continue;
    const base = `the base of the stratum above (row ${above.row.line})`;
    const rule = `at least ${above.stratum.base_m}, ${base}`;
    const value = String(stratum.top_m);
    log.add({ code: "strata-overlap", ...row.place("top_m"), rule, value });
  }
}

function checkDepths({ borehole, depth_m }: Hole, strata: readonly StratumRow[], log: FaultLog) {
  for (const { row, stratum } of strata) {
    if (!(stratum.base_m > depth_m + ROUNDING_M)) continue;
    const rule = `at most ${depth_m}, the depth of borehole ${borehole}`;
    const value = String(stratum.base_m);
    log.add({ code: "stratum-too-deep", ...row.place("base_m"), rule, value });
  }
}

/** A sample is not from below its borehole. */
function checkSample(row: CsvRow, holes: readonly Hole[], log: FaultLog): void {
  const depth_m = row.number("depth_m");
  const hole = holes.find(({ borehole }) => borehole === row.text("borehole"));
  if (hole === undefined || !(depth_m > hole.depth_m + ROUNDING_M)) return;
  const rule = `at most ${hole.depth_m}, the depth of borehole ${hole.borehole}`;
  log.add({ code: "sample-too-deep", ...row.place("depth_m"), rule, value: String(depth_m) });
}

/** Logs a row of an unknown borehole. */
function checkHole(row: CsvRow, names: ReadonlySet<string>, log: FaultLog): void {
  const name = row.text("borehole");
  if (name === "" || names.has(name)) return;
  const rule = names.size === 0 ? "in a boreholes file" : `one of ${[...names].join(", ")}`;
  log.add({ code: "unknown-borehole", ...row.place("borehole"), rule, value: quoted(name) });
}
