/** What the leading option lines of a cell say, and the cell without them. */
export interface OptionedCell {
  /** Option name → its text, in the order of the lines; empty without option lines. */
  readonly options: Readonly<Record<string, string>>;
  /** The cell with each option line blanked: every other line keeps its number. */
  readonly code: string;
}

const optionLine = /^[ \t]*(?:\/\/|#)\|[ \t]?(.*)$/;
const named = /^([\p{L}_][\p{L}\p{N}_.-]*)[ \t]*:(?:[ \t]+(.*))?$/u;

/**
 * Reads the option lines that a cell may begin with: `#| label: fig-map`, `#| caption: The bank`.
 *
 * They are not TypeScript, so whoever hands a cell to the compiler (running, completion, inspection,
 * "is it complete") hands on `code`. Blank lines may stand between them; the first other line ends
 * them. `//|` is read alike. A line without `name:` goes on with the text before it. Quotes around a
 * whole text are taken off. A name given twice keeps its last text.
 *
 * @example readOptionLines("#| label: fig-map\nsurvey").code; // "\nsurvey"
 */
export function readOptionLines(source: string): OptionedCell {
  const lines = source.split("\n");
  const texts = new Map<string, string>();
  let current = "";
  for (const [at, line] of lines.entries()) {
    const [, option] = optionLine.exec(line.replace(/\r$/, "")) ?? [];
    if (option === undefined && line.trim() !== "") break;
    if (option === undefined) continue;
    lines[at] = line.endsWith("\r") ? "\r" : "";
    const [, name, text = ""] = named.exec(option.trim()) ?? [];
    if (name !== undefined) texts.set(name, text);
    else if (texts.has(current))
      texts.set(current, `${texts.get(current)} ${option.trim()}`.trim());
    current = name ?? current;
  }
  const options = [...texts].map(([name, text]) => [name, unquoted(text.trim())] as const);
  return { options: Object.fromEntries(options), code: lines.join("\n") };
}

function unquoted(text: string): string {
  const [, inside] = /^"(.*)"$/s.exec(text) ?? /^'(.*)'$/s.exec(text) ?? [];
  return inside ?? text;
}
