import type { Enquiry } from "../enquiry.js";
import { type NumberForm, recogniseNumbers } from "../values/number-form.js";
import type { OpenColumn } from "./column.js";

/** The form of the numbers of each column: of the whole file, unless its columns differ. */
export function settleNumbers(
  file: string,
  columns: readonly OpenColumn[],
  enquiry: Enquiry,
): (column: OpenColumn) => NumberForm {
  const numeric = columns.filter(({ shape }) => shape === "number" || shape === "degrees");
  const whole = recogniseNumbers(numeric.flatMap(({ cells }) => cells));
  const sign = enquiry.settle({
    file,
    name: "decimal sign",
    ask: "Which sign stands before the decimals?",
    guess: whole?.form.decimal === "," ? "comma" : "point",
    why: whole?.why ?? "columns with a point and columns with a comma; each is read as it is",
    isSure: whole?.isSure ?? true,
    choices: ["point", "comma"],
  });
  const decimal = sign === "comma" ? "," : ".";
  const group = whole?.form.group === decimal ? null : (whole?.form.group ?? null);
  const form: NumberForm = { decimal, group: group ?? groupBeside(whole?.isSure, decimal) };
  if (whole !== null) return () => form;
  return ({ cells }) => recogniseNumbers(cells)?.form ?? form;
}

/** Where the user told the sign, what looked like it before three digits parts groups. */
function groupBeside(isSure: boolean | undefined, decimal: "." | ","): NumberForm["group"] {
  return isSure === false && decimal === "." ? "," : null;
}
