import { scanCell } from "../lineage/lineage-scan.js";
import { loadTypeScript } from "../types/typescript.js";
import { compilerText } from "./cell-text.js";

/**
 * The cell without the declarations that it did not come to before it threw, as far as they are of
 * names that were there before: those keep their value, and so their type. Positions stay.
 * `reached`: place of the statement that threw.
 */
export function withoutUnreached(
  source: string,
  reached: number,
  wasThere: (name: string) => boolean,
): string {
  const blanked = new Set(
    scanCell(source)
      .filter(({ index, makes }) => {
        const isHoisted = makes.some(({ kind }) => kind === "function" || kind === "import");
        return index >= reached && !isHoisted && makes.some(({ name }) => wasThere(name));
      })
      .map(({ index }) => index),
  );
  const ts = loadTypeScript();
  const text = compilerText(source);
  const file = ts.createSourceFile("cell.ts", text, ts.ScriptTarget.ES2022);
  let kept = text;
  for (const [index, { pos, end }] of file.statements.entries()) {
    if (!blanked.has(index)) continue;
    const blank = kept.slice(pos, end).replace(/[^\n\r]/g, " ");
    kept = kept.slice(0, pos) + blank + kept.slice(end);
  }
  return kept;
}
