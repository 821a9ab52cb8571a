import { quoted } from "../../step/step-error.js";
import type { FaultLog } from "../check/faults.js";
import type { ResistivityLine, ResistivityReading } from "../survey.js";
import type { LinePlacement, Role } from "./descriptor.js";
import { PACKAGE_FILE } from "./read-descriptor.js";
import type { Table } from "./table.js";

type Electrode = ResistivityLine["electrodes"][number];

interface LineTables {
  readonly electrodes: readonly Table[];
  readonly readings: readonly Table[];
  /** False where a file of the role could not be read, or not its field. */
  readonly complete: (role: Role, field: string) => boolean;
}

/** Resistivity lines: placement, electrodes by number, readings in file order. */
export function readLines(tables: LineTables, log: FaultLog): readonly ResistivityLine[] {
  const placements = placementsOf(tables.electrodes, log);
  const electrodes = electrodesOf(tables.electrodes, placements, log);
  const known = ["line", "electrode"].every((field) =>
    tables.complete("resistivity-electrodes", field),
  );
  const against = known ? electrodes : null;
  const readings = tables.readings.flatMap((table) => readingsOf(table, against, log));
  return [...placements.values()].map(({ line, runs, chainage_m, offset_m }) => ({
    line,
    runs,
    chainage_m,
    offset_m,
    electrodes: [...(electrodes.get(line)?.values() ?? [])].sort(
      (one, other) => one.electrode - other.electrode,
    ),
    readings: readings.filter((entry) => entry.line === line).map(({ reading }) => reading),
  }));
}

function placementsOf(tables: readonly Table[], log: FaultLog): Map<string, LinePlacement> {
  const placements = new Map<string, LinePlacement>();
  for (const { resource } of tables) {
    for (const placement of resource.lines ?? []) {
      if (placements.has(placement.line)) {
        const field = `resource ${resource.name}, lines`;
        const value = `${quoted(placement.line)} twice`;
        log.add({
          code: "duplicate-line",
          file: PACKAGE_FILE,
          field,
          rule: "one entry a line",
          value,
        });
      }
      placements.set(placement.line, placement);
    }
  }
  return placements;
}

type ByLine = Map<string, Map<number, Electrode>>;

function electrodesOf(
  tables: readonly Table[],
  placements: ReadonlyMap<string, LinePlacement>,
  log: FaultLog,
): ByLine {
  const byLine: ByLine = new Map();
  for (const table of tables) {
    const line = table.texts("line");
    const [number, x_m] = [table.numbers("electrode"), table.numbers("x_m")];
    const elevation_m = table.numbers("elevation_m");
    for (const [i, name] of line.entries()) {
      if (name === "" || Number.isNaN(number[i])) continue;
      const place = { file: table.file, row: table.row[i]! };
      const own = byLine.get(name) ?? new Map<number, Electrode>();
      byLine.set(name, own);
      if (!placements.has(name)) {
        const rule = `placed by an entry of "lines" in ${PACKAGE_FILE}`;
        log.add({ code: "line-not-placed", ...place, field: "line", rule, value: quoted(name) });
      }
      if (own.has(number[i]!)) {
        const rule = `given once in line ${name}`;
        const value = String(number[i]);
        log.add({ code: "duplicate-electrode", ...place, field: "electrode", rule, value });
      }
      const there = [...own.values()].find((one) => one.x_m === x_m[i]);
      if (there !== undefined && !own.has(number[i]!)) {
        const rule = `another place than that of electrode ${there.electrode}`;
        log.add({ code: "electrode-place", ...place, field: "x_m", rule, value: String(x_m[i]) });
      }
      const electrode = { electrode: number[i]!, x_m: x_m[i]!, elevation_m: elevation_m[i]! };
      own.set(number[i]!, electrode);
    }
  }
  return byLine;
}

interface PlacedReading {
  readonly line: string;
  readonly reading: ResistivityReading;
}

function readingsOf(table: Table, electrodes: ByLine | null, log: FaultLog): PlacedReading[] {
  const line = table.texts("line");
  const campaign = table.texts("campaign");
  const numbers = (field: string) => table.numbers(field);
  const [a, b, m, n] = [numbers("a"), numbers("b"), numbers("m"), numbers("n")];
  const [current, voltage] = [numbers("current_mA"), numbers("voltage_mV")];
  const [deviation, repeat] = [numbers("deviation_pct"), numbers("repeat")];
  return line.map((name, i) => {
    const spread = { a: a[i]!, b: b[i]!, m: m[i]!, n: n[i]! };
    const place = { file: table.file, row: table.row[i]! };
    if (electrodes !== null) checkSpread({ place, line: name, spread }, electrodes, log);
    const reading = {
      row: table.row[i]!,
      ...spread,
      current_mA: current[i]!,
      voltage_mV: voltage[i]!,
      deviation_pct: deviation[i]!,
      repeat: Number.isNaN(repeat[i]) ? null : repeat[i]!,
      campaign: campaign[i] || (table.resource.campaign ?? null),
    };
    return { line: name, reading };
  });
}

interface SpreadRow {
  readonly place: { readonly file: string; readonly row: number };
  readonly line: string;
  readonly spread: Readonly<Record<"a" | "b" | "m" | "n", number>>;
}

function checkSpread({ place, line, spread }: SpreadRow, electrodes: ByLine, log: FaultLog): void {
  const own = electrodes.get(line);
  if (own === undefined) {
    if (line === "") return;
    const rule = "a line of the electrodes file";
    log.add({ code: "unknown-line", ...place, field: "line", rule, value: quoted(line) });
    return;
  }
  for (const [one, other] of [
    ["a", "b"],
    ["m", "n"],
  ] as const) {
    if (spread[one] !== 0 || spread[other] !== 0) continue;
    const rule = `an electrode of line ${line} where ${one} is remote (0)`;
    log.add({ code: "both-remote", ...place, field: other, rule, value: "0" });
  }
  const used = new Set<number>();
  for (const [field, number] of Object.entries(spread)) {
    if (Number.isNaN(number) || number === 0) continue;
    if (!own.has(number)) {
      const rule = `an electrode of line ${line} (${span(own)}), or 0 for remote`;
      log.add({ code: "unknown-electrode", ...place, field, rule, value: String(number) });
    } else if (used.has(number)) {
      const rule = "another electrode than the others of the row";
      log.add({ code: "electrode-repeated", ...place, field, rule, value: String(number) });
    }
    used.add(number);
  }
}

function span(electrodes: ReadonlyMap<number, Electrode>): string {
  const numbers = [...electrodes.keys()].sort((one, other) => one - other);
  return `${numbers[0]} to ${numbers.at(-1)}`;
}
