import { groupedBy, neighbours } from "../../../numerics/arrays.js";
import { quoted } from "../../../step/step-error.js";
import type { CsvRow, CsvTable } from "../../read/table/csv-table.js";
import type { FaultLog } from "../faults.js";
import { noteSimilarNames } from "../similar-names.js";

/** Holes for a bank are beside it and not as deep as wells (common practice). */
const FAR_M = 100;
const DEEP_M = 60;
const REFUSED_DEPTH_M = 300;

/** Logs holes too deep to be in metres, and notes deep ones and ones far from the bank. */
export function checkHoles(table: CsvTable, log: FaultLog): void {
  for (const row of table.rows) {
    const [depth_m, offset_m] = [row.number("depth_m"), row.number("offset_m")];
    const named = `${table.file} row ${row.line}: borehole ${row.text("borehole")}`;
    if (depth_m > REFUSED_DEPTH_M) {
      const hint = "looks like cm, expected m";
      const fault = { code: "unit-suspicious", ...row.place("depth_m"), rule: "in m", hint };
      log.add({ ...fault, value: String(depth_m) });
    } else if (depth_m > DEEP_M) {
      log.caution(`${named} is ${depth_m} m deep; in m?`);
    }
    if (Math.abs(offset_m) > FAR_M) log.caution(`${named} is ${offset_m} m from the centreline`);
  }
  noteSimilarNames(table.texts("borehole"), { file: table.file, what: "boreholes" }, log);
}

/** ISO 14688-1: secondary fractions in small letters, then the principal one; made ground is Mg. */
const SOIL =
  /^(([cmf]?(bo|co|gr|sa|si|cl|or)_?)*(Lbo|[CMF]?(Bo|Co|Gr|Sa|Si)|Cl|Or|Pt|Mg)([/-]|$))+$/;
const GAP_M = 0.1;

/** Notes soils that are no letters of ISO 14688-1 and strata that leave a gap. */
export function noteStrata({ rows, file }: CsvTable, log: FaultLog): void {
  const odd = new Set(rows.map((row) => row.text("soil")).filter((soil) => !SOIL.test(soil)));
  odd.delete("");
  if (odd.size > 0) {
    const listed = [...odd].slice(0, 5).map((soil) => quoted(soil));
    const are = odd.size === 1 ? "is no soil" : "are no soils";
    log.caution(`${file}: ${listed.join(", ")} ${are} in the letters of ISO 14688-1, such as siCl`);
  }
  const byTop = (one: CsvRow, other: CsvRow) => one.number("top_m") - other.number("top_m");
  for (const own of groupedBy(rows, (row) => row.text("borehole")).values()) {
    for (const [above, below] of neighbours(own.toSorted(byTop))) {
      const gap_m = below.number("top_m") - above.number("base_m");
      if (!(gap_m > GAP_M)) continue;
      const between = `${above.number("base_m")} and ${below.number("top_m")} m`;
      log.caution(`${file} row ${below.line}: nothing is logged between ${between}`);
    }
  }
}

/** Soils' values lie within these (common practice). */
const LEAST_OHM_M = 0.2;
const MOST_OHM_M = 1e5;
const MOST_WATER_PCT = 1000;
const MOST_CONDUCTIVITY_M_PER_S = 10;

/** Logs laboratory values that no soil has, and notes shares where percentages are asked for. */
export function checkLaboratory({ rows, file }: CsvTable, log: FaultLog): void {
  const limits = [
    ["resistivity_ohm_m", LEAST_OHM_M, MOST_OHM_M],
    ["water_content_pct", 0, MOST_WATER_PCT],
    ["hydraulic_conductivity_m_per_s", 0, MOST_CONDUCTIVITY_M_PER_S],
  ] as const;
  for (const row of rows) {
    for (const [field, least, most] of limits) {
      const value = row.number(field);
      if (!(value < least || value > most)) continue;
      const rule = `a soil's, ${least} to ${most.toLocaleString("en")}`;
      const fault = { code: "unit-suspicious", ...row.place(field), rule };
      log.add({ ...fault, value: String(value) });
    }
  }
  const fines = rows.map((row) => row.number("fines_pct")).filter((value) => value > 0);
  if (fines.length < 2 || fines.some((value) => value > 1)) return;
  log.caution(`${file}: every fines_pct is 1 at the most; are they shares, not percentages?`);
}
