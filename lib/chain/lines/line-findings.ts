import type { Findings } from "../findings.js";
import { lineLinks } from "../line-links.js";
import type { Work } from "../work.js";

type Part = Readonly<Record<string, unknown>>;

/** The findings of the steps that lines go through, line by line and each with the line's name. */
export function lineFindings(work: Work): Partial<Findings> {
  const main = work.placed?.value.walkedLine ?? work.survey.value.walkedLine;
  const others = work.otherLines?.value ?? [];
  if (main === undefined) return {};
  const parts = [
    { line: main.line, part: partOf(work) },
    ...others.map(({ line, work: own }) => ({ line, part: partOf(own as Work) })),
  ];
  const names = [...new Set(parts.flatMap(({ part }) => Object.keys(part)))];
  return Object.fromEntries(
    names.map((name) => [
      name,
      parts.flatMap(({ line, part }) => entriesOf(part[name]).map((own) => ({ line, ...own }))),
    ]),
  );
}

/** What the line's steps found; a step that the line did not reach adds nothing. */
function partOf(work: Work): Part {
  const made = lineLinks.filter(({ gives }) => gives in work);
  return Object.assign({}, ...made.map(({ findings }) => findings?.(work) ?? {}));
}

function entriesOf(found: unknown): readonly object[] {
  if (found === undefined) return [];
  return Array.isArray(found) ? found : [found as object];
}
