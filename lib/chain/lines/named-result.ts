import type { Figure } from "../../step/figure.js";
import { StepResult } from "../../step/step-result.js";

/** A result that names its line in its summary, its cautions, figures and tables. */
export function withLineName(result: StepResult<unknown>, line: string): StepResult<unknown> {
  const named = (text: string) => `${line}: ${text}`;
  return new StepResult({
    ...result,
    summary: named(result.summary),
    cautions: result.cautions.map(({ step, text }) => ({ step, text: named(text) })),
    figures: result.figures.map((figure) => namedFigure(figure, line)),
    tables: result.tables.map((table) => ({ ...table, caption: named(table.caption) })),
  });
}

function namedFigure(figure: Figure, line: string): Figure {
  const title = `${line}: ${figure.title}`;
  const id = `${figure.id}-${line.replaceAll(/\W+/g, "-")}`;
  return { ...figure, id, title, spec: { ...figure.spec, title: namedTitle(figure, line) } };
}

/** The title in the drawing is a text, or the lines of one. */
function namedTitle({ spec: { title } }: Figure, line: string): unknown {
  if (typeof title === "string") return `${line}: ${title}`;
  if (typeof title !== "object" || title === null || !("text" in title)) return title;
  const [first, ...rest] = [title.text].flat();
  return { ...title, text: [`${line}: ${first}`, ...rest] };
}
