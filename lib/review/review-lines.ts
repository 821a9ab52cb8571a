import type { HashDifference, Review, ValueAt } from "./review.js";

/** What differs, a sentence each, under the part of the review that it belongs to. */
export interface ReviewPart {
  readonly heading: string;
  readonly lines: readonly string[];
}

/** Every part that has something to tell, in the order in which a reader goes after it. */
export function reviewParts(review: Review): readonly ReviewPart[] {
  const parts = [
    { heading: "Execution", lines: review.failed === null ? [] : [review.failed] },
    { heading: "Inputs", lines: review.inputs.map((one) => hashLine("input", one)) },
    { heading: "Versions", lines: review.versions.map(versionLine) },
    { heading: "Code", lines: review.code.map((one) => hashLine("the code of cell", one)) },
    { heading: "Order", lines: review.order },
    { heading: "Stored outputs", lines: review.cells.map(cellLine) },
    { heading: "Figures", lines: review.figures.map(figureLine) },
    { heading: "Numbers", lines: review.numbers.map((one) => `${one.file}: ${valueLine(one)}`) },
    { heading: "Files", lines: review.files.map(fileLine) },
  ];
  return parts.filter(({ lines }) => lines.length > 0);
}

function hashLine(what: string, { name, was, is }: HashDifference): string {
  if (is === null) return `${what} ${name} is gone`;
  if (was === null) return `${what} ${name} is new`;
  return `${what} ${name} is another: sha-256 ${was.slice(0, 12)}… then, ${is.slice(0, 12)}… now`;
}

function versionLine({ name, was, is }: HashDifference): string {
  return `version of ${name}: ${was ?? "none"} then, ${is ?? "none"} now`;
}

function cellLine({ cell, output, form, was, is }: Review["cells"][number]): string {
  const which = output === null ? "" : `, output ${output} (${form})`;
  return `cell ${cell}${which}: stored "${was}", its code gives "${is}"`;
}

function figureLine({ file, figure, title, values, count }: Review["figures"][number]): string {
  const [first] = values;
  const more = count > 1 ? `, and ${count - 1} more` : "";
  const name = [figure, title].filter((text) => text !== "").join(", ");
  return `figure ${name} in ${file}: ${first === undefined ? "" : valueLine(first)}${more}`;
}

function valueLine({ path, was, is }: ValueAt): string {
  return `${path === "" ? "the whole" : path} was ${shown(was)}, is ${shown(is)}`;
}

function shown(value: unknown): string {
  return value === null ? "nothing" : typeof value === "string" ? `"${value}"` : String(value);
}

function fileLine({ name, what, was, is }: Review["files"][number]): string {
  return was === "" ? `${name}: ${what}` : `${name}: ${what}: stored "${was}", given "${is}"`;
}

/** What was compared, and to what tolerance. */
export function comparedText({ compared, tolerance }: Review): string {
  const { inputs, cells, figures, files } = compared;
  return (
    `${inputs} inputs, ${cells} cells, ${figures} figures and ${files} files compared; numbers ` +
    `agree within ${tolerance} of themselves.`
  );
}

/** What a second interpreter's blocks agree with; empty where none were given. */
export function secondText({ secondInterpreter: second }: Review): string {
  if (second === null) return "";
  const { matched, oneBoundaries, otherBoundaries, within_m, sameClass_pct, kappa } = second;
  return (
    `${matched.length} of ${oneBoundaries} boundaries are the second interpreter's too, who has ` +
    `${otherBoundaries}, within ${within_m} m; the classes agree on ${sameClass_pct.toFixed(0)} % ` +
    `of the length both cover (kappa ${Number.isNaN(kappa) ? "not defined" : kappa.toFixed(2)}).`
  );
}
