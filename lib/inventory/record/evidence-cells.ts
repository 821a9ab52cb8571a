import type { Seepage } from "../../seepage/seepage.js";
import type { EvidenceCells } from "./reach-record.js";

/** The evidence along the cells of a scored line; pieces of which nothing is known are left out. */
export function evidenceCells({ chainage_m, pieces }: Seepage): EvidenceCells {
  const [first = 0, second = first] = chainage_m;
  const told = pieces.filter(({ value }) => value.some((one) => !Number.isNaN(one)));
  return {
    cell_m: second - first,
    chainage_m: Array.from(chainage_m),
    pieces: Object.fromEntries(
      told.map(({ name, value }) => [
        name,
        Array.from(value, (one) => (Number.isNaN(one) ? null : Math.round(1000 * one) / 1000)),
      ]),
    ),
  };
}
