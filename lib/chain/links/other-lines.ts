import { listText } from "../../step/list-text.js";
import { lineLinks } from "../line-links.js";
import { interpretOtherLines, otherLinesStep } from "../lines/interpret-other-lines.js";
import { lineFindings } from "../lines/line-findings.js";
import { ask, type Link } from "../link.js";
import { surveyOf, type Work } from "../work.js";

export const otherLinesLink: Link = {
  step: otherLinesStep,
  gives: "otherLines",
  takes: ["survey", "placed"],
  carries: lineLinks.map(({ step }) => step),
  run: function* (work) {
    const survey = surveyOf(work);
    if ((survey.value.otherLines ?? []).length === 0) return undefined;
    return yield* ask(interpretOtherLines, survey, work.decisions);
  },
  findings: lineFindings,
  unanswered: (work) =>
    (work.otherLines?.value ?? []).flatMap(({ line, refused, work: own }) => [
      ...(refused === null ? [] : [`${line} could not be followed to the end: ${refused}.`]),
      ...lineLinks
        .filter(({ gives }) => gives in own)
        .flatMap(({ unanswered }) => unanswered?.(own as Work) ?? [])
        .map((text) => `${line}, ${text}`),
    ]),
  absent: (work) => {
    const others = surveyOf(work).value.otherLines ?? [];
    if (others.length === 0 || work.otherLines !== undefined) return null;
    const names = listText(others.map(({ line }) => line));
    return `${names} was walked beside the main line and is not interpreted in this work.`;
  },
  effect: (before, after) => {
    const texts = (after.otherLines?.value ?? []).flatMap(({ line, work }) => {
      const was = before.otherLines?.value.find((one) => one.line === line)?.work;
      if (was === undefined) return [`${line} is a line of its own.`];
      return effects(was as Work, work as Work).map((text) => `${line}: ${text}`);
    });
    return texts.length === 0 ? null : texts.join(" ");
  },
};

function effects(before: Work, after: Work): readonly string[] {
  if (before.blocks === undefined || after.blocks === undefined) return [];
  return lineLinks.flatMap(({ effect }) => effect?.(before, after) ?? []);
}
