import { sectionFinding } from "../../sections/figures/finding.js";
import { invertSection, sectionStep } from "../../sections/invert-section.js";
import { invertibleLines } from "../../sections/invertible-lines.js";
import type { Section } from "../../sections/section.js";
import { shapeUnder } from "../../sections/shape-under.js";
import { waterBeside } from "../../sections/water/water-beside.js";
import { countText } from "../../step/show/html.js";
import type { StepResult } from "../../step/step-result.js";
import type { Survey } from "../../survey/survey.js";
import { significant } from "../digits.js";
import type { Findings } from "../findings.js";
import { ask, type Link, type Readiness } from "../link.js";
import { surveyOf } from "../work.js";
import { sectionsAgainstWalk } from "./sections-against-walk.js";

export const sectionsLink: Link = {
  step: sectionStep,
  gives: "sections",
  takes: ["survey"],
  run: function* (work, decided) {
    const survey = surveyOf(work).value;
    const results: StepResult<Section>[] = [];
    for (const line of invertibleLines(survey)) {
      const shape = shapeUnder(line, survey);
      const water = waterBeside(line, survey);
      results.push(yield* ask(invertSection, line, { shape, water, ...decided }));
    }
    return results.length > 0 ? results : undefined;
  },
  about: ({ value }) => `line ${value.line}`,
  readiness: { step: "sections", of: readiness },
  findings: ({ sections = [] }) => ({ sections: sections.map(({ value }) => finding(value)) }),
  absent: (work) => absentText(surveyOf(work).value),
  unanswered: sectionsAgainstWalk,
  effect: (before, after) => {
    const was = new Map((before.sections ?? []).map(({ value }) => [value.line, value]));
    const changed = (after.sections ?? []).flatMap(({ value }) => {
      const old = was.get(value.line);
      const [then, now] = [old ? sectionFinding(old) : "none", sectionFinding(value)];
      return then === now ? [] : [`${now} (instead of: ${then})`];
    });
    return changed.length === 0 ? null : `${changed.join("; ")}.`;
  },
};

function finding({ line, readings, rms, iterations, reliableTo_m }: Section): SectionFinding {
  const rejected = readings.filter(({ cause }) => cause !== "").length;
  return {
    ...{ line, readings: readings.length, rejected, rms: significant(rms), iterations },
    reliableTo_m: significant(reliableTo_m),
  };
}

type SectionFinding = Findings["sections"][number];

function absentText(survey: Survey): string | null {
  const lines = survey.resistivityLines;
  if (lines.length === 0) return "No resistivity lines were measured: no section.";
  const given = invertibleLines(survey);
  const without = lines.filter((line) => !given.includes(line)).map(({ line }) => line);
  if (without.length === 0) return null;
  return `Too few readings in use for a section: ${without.join(", ")}.`;
}

function readiness({ resistivityLines }: Survey): Readiness {
  const cannot = resistivityLines.length === 0 ? "compare with a second method" : "";
  const measured = resistivityLines.filter(({ readings }) => readings.length > 0);
  if (measured.length === 0) {
    return { ready: false, text: "no resistivity lines with readings", cannot };
  }
  const parts = measured.map(
    ({ line, readings }) => `${line} (${countText(readings.length, "reading")})`,
  );
  return { ready: true, text: parts.join(", "), cannot };
}
