import { itemAt } from "../../numerics/arrays.js";
import type { Campaign, Pass } from "../../survey/survey.js";
import type { FoundLine } from "./find-lines.js";

/** The campaigns as if only this line had been walked; those that did not walk it are left out. */
export function readingsOfLine(
  campaigns: readonly Campaign[],
  { walks }: FoundLine,
): readonly Campaign[] {
  return campaigns
    .map((campaign, c) => {
      const runs = walks.filter((walk) => walk.campaign === c).flatMap(({ rows }) => rows);
      const passes = campaign.passes.flatMap((pass, p) => {
        const own = runs.filter((run) => run.pass === p);
        const rows = own.flatMap(({ first, last }) =>
          Array.from({ length: last - first + 1 }, (_, i) => first + i),
        );
        return rows.length === 0
          ? []
          : [
              rowsOf(
                pass,
                rows.sort((a, b) => a - b),
              ),
            ];
      });
      return { ...campaign, passes };
    })
    .filter(({ passes }) => passes.length > 0);
}

/** The pass with some of its rows, in file order. */
function rowsOf(pass: Pass, rows: readonly number[]): Pass {
  if (rows.length === pass.count) return pass;
  const floats = (from: Float64Array) => Float64Array.from(rows, (row) => itemAt(from, row));
  const marks = (from: Uint8Array) => Uint8Array.from(rows, (row) => itemAt(from, row));
  return {
    resource: pass.resource,
    file: pass.file,
    instrument: pass.instrument,
    count: rows.length,
    row: Int32Array.from(rows, (row) => itemAt(pass.row, row)),
    time_s: floats(pass.time_s),
    line: rows.map((row) => itemAt(pass.line, row)),
    easting_m: floats(pass.easting_m),
    northing_m: floats(pass.northing_m),
    chainage_m: floats(pass.chainage_m),
    offset_m: floats(pass.offset_m),
    height_m: floats(pass.height_m),
    values: pass.values.map(floats),
    setAside: pass.setAside.map(marks),
    corrected: marks(pass.corrected),
  };
}
