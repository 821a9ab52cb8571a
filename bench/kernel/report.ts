import { type Measured, median } from "./measured.js";
import type { Cost } from "./started-kernel.js";

type Figure = (one: Measured) => Cost | number;
type Found = ReadonlyMap<string, readonly Measured[]>;

const rowsOver = (cells: number): readonly (readonly [what: string, figure: Figure])[] => [
  ["start to first result, ms", ({ first }) => first],
  [`a small cell of ${cells}, ms`, ({ cell }) => cell],
  ["  the first 50, ms", ({ firstCells }) => firstCells],
  ["  the last 50, ms", ({ lastCells }) => lastCells],
  ['import … from "banquette", ms', ({ imports }) => imports],
  [`resident memory after ${cells} cells, MB`, ({ memory_MB }) => memory_MB],
];

interface Target {
  readonly what: string;
  readonly figure: Figure;
  readonly wanted: number;
  readonly of: string;
  /** What the figure cannot go below as long as cells are checked by TypeScript. */
  readonly floor: string;
}

const targetsOver = (cells: number): readonly Target[] => [
  {
    what: "first result from a snapshot, ms",
    figure: ({ first }) => first,
    wanted: 400,
    of: "banquette",
    floor: "snapshot alone",
  },
  {
    what: "first result without one, ms",
    figure: ({ first }) => first,
    wanted: 900,
    of: "no snapshot",
    floor: "compiler alone",
  },
  {
    what: "a small cell, ms",
    figure: ({ cell }) => cell,
    wanted: 15,
    of: "banquette",
    floor: "compiler alone",
  },
  {
    what: 'import … from "banquette", ms',
    figure: ({ imports }) => imports,
    wanted: 600,
    of: "banquette",
    floor: "library alone",
  },
  {
    what: `memory after ${cells} cells, MB`,
    figure: ({ memory_MB }) => memory_MB,
    wanted: 150,
    of: "banquette",
    floor: "compiler alone",
  },
  {
    what: "  without a snapshot, MB",
    figure: ({ memory_MB }) => memory_MB,
    wanted: 150,
    of: "no snapshot",
    floor: "compiler alone",
  },
];

function line(first: string, columns: readonly string[], last = ""): void {
  const text = columns.map((one) => one.padStart(16)).join("");
  console.log(`${first.padEnd(38)}${text}   ${last}`.trimEnd());
}

/** Every figure of every candidate, then each one that is wanted beside its floor. */
export function printReport(found: Found, cells: number): void {
  line("", [...found.keys()]);
  for (const [what, figure] of rowsOver(cells)) {
    line(
      what,
      [...found.values()].map((all) => shown(all.map(figure))),
    );
  }
  console.log("Medians over the rounds. Times: by the clock / of processors.\n");
  line("", ["wanted under", "measured", "floor"], "the floor is of");
  for (const { what, figure, wanted, of, floor } of targetsOver(cells)) {
    const [own, least] = [of, floor].map((name) => (found.get(name) ?? []).map(figure));
    const beyond = lowest(least ?? []) > wanted ? `${floor}, above what is wanted` : floor;
    line(what, [String(wanted), shown(own ?? []), shown(least ?? [])], beyond);
  }
}

/** The lesser of clock and processors, which a loaded machine does not raise. */
function lowest(figures: readonly (Cost | number)[]): number {
  return median(
    figures.map((one) => (typeof one === "number" ? one : Math.min(one.wall_ms, one.cpu_ms))),
  );
}

function shown(figures: readonly (Cost | number)[]): string {
  const text = (values: readonly number[]) => {
    const value = median(values);
    return Number.isNaN(value) ? "–" : value.toFixed(value < 100 ? 1 : 0);
  };
  const costs = figures.filter((one): one is Cost => typeof one === "object");
  if (costs.length === 0) return text(figures.filter((one) => typeof one === "number"));
  const [wall, cpu] = [costs.map((one) => one.wall_ms), costs.map((one) => one.cpu_ms)];
  return text(wall) === "–" ? "–" : `${text(wall)} / ${text(cpu)}`;
}
