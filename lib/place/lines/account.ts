import type { Table } from "../../step/figure.js";
import { listText } from "../../step/list-text.js";
import { countText } from "../../step/show/html.js";
import { sideText, type WalkedLineSize } from "./find-lines.js";

/** "crest (2,400 readings, on the centreline) and toe (2,380 readings, 14 m to the right)". */
function linesText(lines: readonly WalkedLineSize[]): string {
  return listText(
    lines.map(
      ({ line, readings, offset_m }) =>
        `${line} (${countText(readings, "reading")}, ${sideText(offset_m)})`,
    ),
  );
}

/** How the readings were parted into lines; nothing where there is one. */
export function lineCautions(lines: readonly WalkedLineSize[]): readonly string[] {
  const [main] = lines;
  if (main === undefined) return [];
  const names = lines.flatMap((line) => line.names);
  const shared = [...new Set(names)].filter(
    (name) => names.filter((one) => one === name).length > 1,
  );
  return [
    `${lines.length} lines were walked: ${linesText(lines)}. Each is interpreted by itself; ` +
      `the steps read ${main.line} first.`,
    ...shared.map((name) => {
      const own = lines.filter((line) => line.names.includes(name));
      const called = name === "" ? "Readings without a line's name" : `Readings of line ${name}`;
      const sides = listText(own.map(({ offset_m }) => sideText(offset_m)));
      return `${called} lie apart across the bank (${sides}): they are taken as two lines.`;
    }),
  ];
}

/** One row a line; no table where there is one. */
export function lineTables(lines: readonly WalkedLineSize[]): readonly Table[] {
  if (lines.length === 0) return [];
  const columns = [
    { field: "line", label: "Line" },
    { field: "names", label: "Names in the files" },
    { field: "readings", label: "Readings" },
    { field: "offset_m", label: "Left of the centreline (m)", digits: 1 },
  ];
  const rows = lines.map(({ line, names, readings, offset_m }) => ({
    ...{ line, names: names.map((name) => name || "(blank)").join(", "), readings, offset_m },
  }));
  const caption = "The lines that were walked, the one that the steps read first on top.";
  return [{ id: "lines", caption, columns, rows }];
}
