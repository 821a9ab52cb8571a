import type { Accounting } from "../step/account.js";
import type { StepReport } from "../step/define-step.js";
import { listText } from "../step/list-text.js";
import { countText } from "../step/show/html.js";
import type { Basis } from "../step/step-account.js";
import { ELECTRODE_DANGER } from "./danger.js";
import { sectionFigures } from "./figures/figures.js";
import { sectionFinding } from "./figures/finding.js";
import type { InvertedSection } from "./inverted-section.js";
import type { Section } from "./section.js";
import type { InvertSectionOptions } from "./section-options.js";
import { sectionTables } from "./tables.js";
import { waterText } from "./water/water-text.js";

/** What `invertSection` says of itself. */
export function sectionReport(
  { section, remarks }: InvertedSection,
  used: InvertSectionOptions,
): StepReport<Section> {
  return {
    value: section,
    summary: summaryOf(section),
    basis: BASIS,
    cautions: [...remarks, ...cautionsOf(section, used), ELECTRODE_DANGER],
    accounting: accountingOf(section),
    figures: sectionFigures(section),
    tables: sectionTables(section),
  };
}

const BASIS: readonly Basis[] = [
  {
    statement: "Potentials over a 2-D earth with topography in the wavenumber domain.",
    source: "Dey & Morrison 1979; Zienkiewicz & Taylor 2000 (biquadratic elements)",
  },
  {
    statement: "Answers of readings to cells by reciprocity.",
    source: "McGillivray & Oldenburg 1990, Geophysical Prospecting 38, 499",
  },
  {
    statement:
      "Differences of neighbouring cells as a Gaussian Markov random field whose strengths, along " +
      "and down, are sampled with the section.",
    source: "Rue & Held 2005, Gaussian Markov Random Fields",
  },
  {
    statement: "Errors by reciprocals, repeats and stacking.",
    source: "after Slater, Binley, Daily & Johnson 2000, Journal of Applied Geophysics 44, 85",
  },
  {
    statement: "How much of a reference resistivity shows through in each cell.",
    source: "Oldenburg & Li 1999, Geophysics 64, 403",
  },
];

function summaryOf(section: Section): string {
  const { line, campaign, readings, rms, iterations } = section;
  const used = readings.filter(({ cause }) => cause === "").length;
  const arrays = [...new Set(readings.map(({ array }) => array))];
  return (
    `${sectionFinding(section)}. Line ${line}${campaign === null ? "" : `, campaign ${campaign}`}: ` +
    `${used} of ${countText(readings.length, "reading")} (${listText(arrays)}) in ` +
    `${countText(iterations, "step")}; they decide ${section.resolved.toFixed(0)} numbers. ` +
    `Normalised misfit ${rms.toFixed(2)}, of readings left out ${section.leftOut.toFixed(2)}.`
  );
}

/** The readings tell of a noise above this many times the stated. */
const NOISY = 1.5;
/** A misfit of left-out readings above it says that the errors are too hopeful. */
const LEFT_OUT = 1.5;

function cautionsOf(section: Section, used: InvertSectionOptions): readonly string[] {
  const texts = [
    "Where colours fade the section is the prior, not the readings. A low misfit does " +
      "not prove that a body is there.",
    shapeText(section, used),
    waterText(section, used),
  ];
  if (section.noise > NOISY) {
    texts.push(
      `The readings scatter ${section.noise.toFixed(1)} times as much about any section as ` +
        "repeats and reciprocals say: ground that varies across the line, or wrong positions.",
    );
  }
  if (section.leftOut > LEFT_OUT) {
    texts.push("Readings left out are predicted worse than their errors allow.");
  }
  const { reciprocals, repeats } = section.errors;
  if (reciprocals + repeats < 10) {
    texts.push("Fewer than ten repeats or reciprocals: the errors are believed, not measured.");
  }
  if (!(section.reliableTo_m > 0)) texts.push("No depth is reliable under half of the line.");
  return texts.filter((text) => text !== "");
}

function shapeText(
  section: Section,
  { shape, crossSection, correctShape }: InvertSectionOptions,
): string {
  if (section.shapeFactors !== null) {
    const [least, most] = section.shapeFactors.map((factor) => Math.round(100 * (factor - 1)) + 0);
    if (crossSection !== null) {
      return (
        `The cross-section that was given changes the readings by ${least} to ${most} % against ` +
        "level layers; this is divided out. It is no better known than that cross-section."
      );
    }
    return (
      `The embankment's shape alone raises the readings by ${least} to ${most} %; ` +
      "this is divided out as for an embankment of one resistivity. Under a core or beside water " +
      "it is a first step."
    );
  }
  if (section.runs === "across") return "";
  if ((shape !== null || crossSection !== null) && !correctShape) {
    return "The embankment's shape is left in by choice: false structure of tens of per cent.";
  }
  return "No cross-section was given: the shape of the bank beside the line is not corrected.";
}

function accountingOf({ readings }: Section): Accounting {
  const causes = new Map<string, number>();
  for (const { cause } of readings) {
    if (cause !== "") causes.set(cause, (causes.get(cause) ?? 0) + 1);
  }
  const inUse = readings.filter(({ cause }) => cause === "");
  const corrected = inUse.filter(({ shapeFactor }) => shapeFactor !== 1).length;
  return {
    readings: readings.length,
    kept: inUse.length - corrected,
    corrected,
    setAside: [...causes].map(([cause, count]) => ({ cause, readings: count })),
  };
}
