import { quoted } from "../../step/step-error.js";
import { checkChainages } from "../bank/chainage-range.js";
import type { Frame } from "../bank/locate.js";
import type { FaultLog } from "../check/faults.js";
import type { Borehole, LaboratoryValue, Stratum } from "../survey.js";
import type { Role } from "./descriptor.js";
import type { Table } from "./table.js";

interface BoreholeTables {
  readonly boreholes: readonly Table[];
  readonly strata: readonly Table[];
  readonly laboratory: readonly Table[];
  /** False where a file of the role could not be read, or not its field. */
  readonly complete: (role: Role, field: string) => boolean;
}

// Depths are logged to the centimetre; strata may touch within rounding.
const ROUNDING_M = 0.005;

/** Boreholes with their strata and laboratory values, in file order, strata from the top down. */
export function readBoreholes(tables: BoreholeTables, frame: Frame, log: FaultLog) {
  const holes = tables.boreholes.flatMap((table) => holesOf(table, frame, log));
  const names = new Set(holes.map(({ borehole }) => borehole));
  const { strata: strataTables, laboratory: laboratoryTables, complete } = tables;
  if (complete("boreholes", "borehole")) {
    for (const table of [...strataTables, ...laboratoryTables]) checkHoles(table, names, log);
  }
  const strata = strataTables.flatMap((table) => strataOf(table, log));
  const laboratory = laboratoryTables.flatMap(laboratoryOf);
  for (const table of laboratoryTables) checkSamples(table, holes, log);
  return holes.map((hole): Borehole => {
    const own = strata.filter(({ borehole }) => borehole === hole.borehole);
    own.sort((one, other) => one.stratum.top_m - other.stratum.top_m);
    checkOverlaps(own, log);
    checkDepths(hole, own, log);
    return {
      ...hole,
      strata: own.map(({ stratum }) => stratum),
      laboratory: laboratory.filter(({ name }) => name === hole.borehole).map(({ value }) => value),
    };
  });
}

function holesOf(
  table: Table,
  frame: Frame,
  log: FaultLog,
): Omit<Borehole, "strata" | "laboratory">[] {
  checkChainages(table, ["chainage_m"], { frame, log });
  const borehole = table.texts("borehole");
  for (const [i, name] of borehole.entries()) {
    if (name === "" || borehole.indexOf(name) === i) continue;
    const place = { file: table.file, row: table.row[i]!, field: "borehole" };
    log.add({ code: "duplicate-borehole", ...place, rule: "given once", value: quoted(name) });
  }
  const chainage_m = table.numbers("chainage_m");
  const offset_m = table.numbers("offset_m");
  const elevation_m = table.numbers("elevation_m");
  const depth_m = table.numbers("depth_m");
  return borehole.map((name, i) => ({
    borehole: name,
    chainage_m: chainage_m[i]!,
    offset_m: offset_m[i]!,
    elevation_m: elevation_m[i]!,
    depth_m: depth_m[i]!,
  }));
}

interface PlacedStratum {
  readonly borehole: string;
  readonly file: string;
  readonly row: number;
  readonly stratum: Stratum;
}

function strataOf(table: Table, log: FaultLog): PlacedStratum[] {
  const borehole = table.texts("borehole");
  const [top_m, base_m] = [table.numbers("top_m"), table.numbers("base_m")];
  const soil = table.texts("soil");
  const description = table.texts("description");
  return borehole.map((name, i) => {
    const row = table.row[i]!;
    if (top_m[i]! >= base_m[i]!) {
      const rule = `above base_m (top_m < ${base_m[i]})`;
      const place = { file: table.file, row, field: "top_m" };
      log.add({ code: "stratum-reversed", ...place, rule, value: String(top_m[i]) });
    }
    const stratum = {
      top_m: top_m[i]!,
      base_m: base_m[i]!,
      soil: soil[i]!,
      description: description[i]!,
    };
    return { borehole: name, file: table.file, row, stratum };
  });
}

function checkOverlaps(strata: readonly PlacedStratum[], log: FaultLog): void {
  for (const [i, { file, row, stratum }] of strata.entries()) {
    const above = strata[i - 1];
    if (above === undefined || !(stratum.top_m < above.stratum.base_m - ROUNDING_M)) continue;
    const rule = `at least ${above.stratum.base_m}, the base of the stratum above (row ${above.row})`;
    const value = String(stratum.top_m);
    log.add({ code: "strata-overlap", file, row, field: "top_m", rule, value });
  }
}

function checkDepths(
  hole: { readonly borehole: string; readonly depth_m: number },
  strata: readonly PlacedStratum[],
  log: FaultLog,
): void {
  for (const { file, row, stratum } of strata) {
    if (!(stratum.base_m > hole.depth_m + ROUNDING_M)) continue;
    const rule = `at most ${hole.depth_m}, the depth of borehole ${hole.borehole}`;
    const value = String(stratum.base_m);
    log.add({ code: "stratum-too-deep", file, row, field: "base_m", rule, value });
  }
}

function laboratoryOf(table: Table) {
  const column = (field: string) => {
    const values = table.numbers(field);
    return (i: number) => (Number.isNaN(values[i]) ? null : values[i]!);
  };
  const fines = column("fines_pct");
  const water = column("water_content_pct");
  const conductivity = column("hydraulic_conductivity_m_per_s");
  const resistivity = column("resistivity_ohm_m");
  const depth_m = table.numbers("depth_m");
  return table.texts("borehole").map((name, i) => {
    const value: LaboratoryValue = {
      depth_m: depth_m[i]!,
      fines_pct: fines(i),
      water_content_pct: water(i),
      hydraulic_conductivity_m_per_s: conductivity(i),
      resistivity_ohm_m: resistivity(i),
    };
    return { name, value };
  });
}

/** A sample is not from below its borehole. */
function checkSamples(
  table: Table,
  holes: readonly { readonly borehole: string; readonly depth_m: number }[],
  log: FaultLog,
): void {
  const depth_m = table.numbers("depth_m");
  for (const [i, name] of table.texts("borehole").entries()) {
    const hole = holes.find(({ borehole }) => borehole === name);
    if (hole === undefined || !(depth_m[i]! > hole.depth_m + ROUNDING_M)) continue;
    const place = { file: table.file, row: table.row[i]!, field: "depth_m" };
    const rule = `at most ${hole.depth_m}, the depth of borehole ${name}`;
    log.add({ code: "sample-too-deep", ...place, rule, value: String(depth_m[i]) });
  }
}

/** Logs rows of unknown boreholes. */
function checkHoles(table: Table, names: ReadonlySet<string>, log: FaultLog): void {
  for (const [i, name] of table.texts("borehole").entries()) {
    if (name === "" || names.has(name)) continue;
    const place = { file: table.file, row: table.row[i]!, field: "borehole" };
    const rule = names.size === 0 ? "in a boreholes file" : `one of ${[...names].join(", ")}`;
    log.add({ code: "unknown-borehole", ...place, rule, value: quoted(name) });
  }
}
