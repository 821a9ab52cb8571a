import type { Basis } from "../step/step-account.js";
import type { Masked } from "./masked.js";

export const maskBasis: readonly Basis[] = [
  {
    statement:
      "Metal at or near the surface is noted in the field with its position and extent, and readings " +
      "within its reach are set aside, not deleted.",
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
      "A small piece of metal couples the coils as a dipole that one coil induces and the other senses, " +
      "with one decay time; a filter of that shape finds it best in noise.",
    source:
      "Grant & West 1965, Interpretation Theory in Applied Geophysics (sphere in a dipole field)",
  },
  {
    statement: "Scores are made normal by the cube root of a mean square.",
    source: "Wilson & Hilferty 1931, Proceedings of the National Academy of Sciences 17, 684–688",
  },
];

const FEW = ["No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten"];

/** "Eight stretches set aside, 6.1 % of the readings; two of them nobody noted", no full stop. */
export function maskFinding(value: Masked): string {
  const count = value.interference.length;
  if (count === 0)
    return `No stretch of campaign ${value.label} is set aside as disturbed by metal`;
  const share = `${sharePct(value).toFixed(1)} % of the readings`;
  const unnoted = value.unexplained.length;
  const tail =
    unnoted === 0 ? "all of them noted" : `${word(unnoted).toLowerCase()} of them nobody noted`;
  const noun = count === 1 ? "stretch" : "stretches";
  return `${word(count)} ${noun} of campaign ${value.label} set aside, ${share}; ${tail}`;
}

function word(count: number): string {
  return FEW[count] ?? String(count);
}

/** Readings that the stretches set aside, % of all readings of the campaign. */
export function sharePct({ passes, interference }: Masked): number {
  const readings = passes.reduce((sum, { count }) => sum + count, 0);
  const aside = interference.reduce((sum, one) => sum + one.readings, 0);
  return readings > 0 ? (100 * aside) / readings : 0;
}

export function maskSummary(value: Masked): string {
  const silent = value.silentNotes.map(({ object }) => object).join(", ");
  const quiet =
    silent === "" ? "" : ` Noted but not seen in any channel, so left in use: ${silent}.`;
  return `${maskFinding(value)}.${quiet}`;
}
