import type { StepReport } from "../step/define-step.js";
import type { Basis } from "../step/step-account.js";
import { accountFor } from "../survey/account/reading-status.js";
import { maskCautions } from "./cautions.js";
import { interferenceFigures } from "./figures.js";
import type { MaskedWork } from "./mask-campaign.js";
import type { Masked } from "./masked.js";
import type { MaskOptions } from "./options.js";
import { maskTables } from "./tables.js";
import { maskFinding } from "./words.js";

/** The account of `maskInterference`. */
export function maskReport(work: MaskedWork, used: MaskOptions): StepReport<Masked> {
  const { value } = work;
  return {
    value,
    summary: summaryOf(value),
    basis: BASIS,
    cautions: maskCautions(work),
    accounting: accountFor([value]),
    figures: interferenceFigures(work, used),
    tables: maskTables(work),
  };
}

const BASIS: readonly Basis[] = [
  {
    statement:
      "Metal at or near the surface is noted in the field with its position and extent, and " +
      "readings within its reach are set aside, not deleted.",
    source: "common practice",
  },
  {
    statement:
      "What changes of a layered ground can do to the channels follows from the layered-earth " +
      "response; an excursion that they cannot do is not ground.",
    source: "Wait 1982, Geo-electromagnetism (response)",
  },
  {
    statement:
      "A small piece of metal couples the coils as a dipole that one coil induces and the other " +
      "senses, with one decay time; a filter of that shape finds it best in noise.",
    source:
      "Grant & West 1965, Interpretation Theory in Applied Geophysics (sphere in a dipole field)",
  },
  {
    statement: "Scores are made normal by the cube root of a mean square.",
    source: "Wilson & Hilferty 1931, Proceedings of the National Academy of Sciences 17, 684–688",
  },
];

function summaryOf(value: Masked): string {
  const silent = value.silentNotes.map(({ object }) => object).join(", ");
  const quiet =
    silent === "" ? "" : ` Noted but not seen in any channel, so left in use: ${silent}.`;
  return `${maskFinding(value)}.${quiet}`;
}
