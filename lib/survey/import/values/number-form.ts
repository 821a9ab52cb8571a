/** How numbers are written in a file. */
export interface NumberForm {
  readonly decimal: "." | ",";
  /** Between groups of three digits; null where there is none. */
  readonly group: "." | "," | " " | "'" | null;
}

const PLAIN = /^[+-]?(\d+([.,]\d*)?|[.,]\d+)(e[+-]?\d+)?$/i;
const GROUPED = /^[+-]?\d{1,3}([.,' ’\u00a0\u202f])\d{3}(?:\1\d{3})*([.,]\d+)?$/;

/** True for a number in any form that is read here. */
export function isNumber(cell: string): boolean {
  return PLAIN.test(cell) || GROUPED.test(cell);
}

/** A recognised form, and whether another one would do as well. */
export interface RecognisedNumbers {
  readonly form: NumberForm;
  readonly isSure: boolean;
  readonly why: string;
}

/**
 * The form of a file's numbers. `1,5` tells a decimal comma, `1.5` a point, `1.234,5` both signs;
 * `1,234` alone tells nothing. Two signs that contradict each other give null.
 */
export function recogniseNumbers(cells: Iterable<string>): RecognisedNumbers | null {
  const seen = { point: "", comma: "", group: "", unsure: "" };
  for (const cell of cells) noteNumber(cell, seen);
  const { point, comma, group, unsure } = seen;
  if (point !== "" && comma !== "") return null;
  const decimal = comma !== "" ? "," : ".";
  const form = { decimal, group: groupIn(group, decimal) } as const;
  const why = [comma || point, group].filter((cell) => cell !== "").map((cell) => `"${cell}"`);
  if (why.length > 0) return { form, isSure: true, why: `numbers such as ${why.join(", ")}` };
  if (unsure === "") return { form, isSure: true, why: "whole numbers only" };
  const text = `"${unsure}" may be a decimal comma or thousands`;
  return {
    form: { decimal: unsure.includes(",") ? "," : ".", group: null },
    isSure: false,
    why: text,
  };
}

type Seen = Record<"point" | "comma" | "group" | "unsure", string>;

function noteNumber(cell: string, seen: Seen): void {
  const grouped = GROUPED.exec(cell);
  if (grouped !== null) {
    const [, sign = "", decimals = ""] = grouped;
    const isTwice = cell.split(sign).length > 2;
    if (decimals !== "" || isTwice || !/[.,]/.test(sign)) {
      seen.group ||= cell;
      if (decimals.startsWith(",") || (isTwice && sign === ".")) seen.comma ||= cell;
      else if (decimals.startsWith(".") || (isTwice && sign === ",")) seen.point ||= cell;
      return;
    }
    if (/^[+-]?0/.test(cell)) seen[sign === "," ? "comma" : "point"] ||= cell;
    else if (sign === ",") seen.unsure ||= cell;
    return;
  }
  if (!PLAIN.test(cell)) return;
  if (cell.includes(",")) seen.comma ||= cell;
  else if (cell.includes(".")) seen.point ||= cell;
}

function groupIn(cell: string, decimal: "." | ","): NumberForm["group"] {
  const sign = GROUPED.exec(cell)?.[1];
  if (sign === undefined || sign === decimal) return null;
  if (sign === "." || sign === ",") return sign;
  return sign === "'" || sign === "’" ? "'" : " ";
}

const GROUP_SIGNS = { ".": /\./g, ",": /,/g, " ": /[ \u00a0\u202f]/g, "'": /['’]/g } as const;

/** The number as it would be written with a point and without groups; null for what is none. */
export function plainNumber(cell: string, { decimal, group }: NumberForm): string | null {
  let text = cell.replace(/^[−–]/, "-");
  if (group !== null) text = text.replace(GROUP_SIGNS[group], "");
  if (decimal === ",") {
    if (text.includes(".")) return null;
    text = text.replace(",", ".");
  }
  return /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(text) ? text.replace(/^\+/, "") : null;
}
