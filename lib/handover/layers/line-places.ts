import { positionAt } from "../../survey/bank/position.js";
import type { Grid } from "../../survey/bank/projection.js";
import type { Survey } from "../../survey/survey.js";

/** Chainages of findings are given to this, m: a shorter stretch is drawn this long. */
const shortest_m = 0.1;

/** The places of a walked line between two chainages, with the centreline's bends. */
export function stretchPlaces(
  survey: Survey,
  stretch: { readonly from_m: number; readonly to_m: number; readonly line?: string },
): readonly Grid[] {
  const { centreline } = survey;
  const offset_m = lineOffset_m(survey, stretch.line);
  const short_m = Math.max(0, shortest_m - (stretch.to_m - stretch.from_m)) / 2;
  const [from_m, to_m] = [stretch.from_m - short_m, stretch.to_m + short_m];
  const bends = Array.from(centreline.chainage_m).filter((x) => x > from_m && x < to_m);
  return [from_m, ...bends, to_m].map((x) => positionAt(centreline, x, offset_m));
}

/**
 * Where a line lies beside the centreline, m; 0 for the only one and for a name that is not known.
 */
function lineOffset_m({ walkedLine, otherLines = [] }: Survey, line: string | undefined): number {
  const lines = [...(walkedLine === undefined ? [] : [walkedLine]), ...otherLines];
  return lines.find((one) => one.line === line)?.offset_m ?? 0;
}
