import { defineStep, runStep } from "../step/define-step.js";
import type { Caution } from "../step/step-account.js";
import type { StepResult } from "../step/step-result.js";
import { accountFigure } from "../survey/account/account-figure.js";
import { accountFor } from "../survey/account/reading-status.js";
import { checkDecisions, type DecisionCheck } from "./decisions/check-decisions.js";
import { decisionFinding } from "./decisions/decision-table.js";
import { chainage } from "./digits.js";
import type { Findings } from "./findings.js";
import { findingsTables } from "./findings-table.js";
import { overviewFigure } from "./front/overview-figure.js";
import { overviewMap } from "./front/overview-map.js";
import { findingsSummary } from "./front/summary.js";
import { linesFigure } from "./lines/figures.js";
import { type Link, resultsOf } from "./link.js";
import { readingsOf, surveyOf, type Work } from "./work.js";

interface Gathering {
  readonly links: readonly Link[];
  readonly work: Work;
}

interface Gathered {
  readonly findings: Findings;
  readonly open: readonly Caution[];
}

const gatherStep = defineStep({
  name: "gatherFindings",
  options: {},
  run: gathered,
  report: ({ findings, open }: Gathered, _, { work }: Gathering) => {
    const accounting = accountFor(readingsOf(work));
    return {
      value: findings,
      summary: findingsSummary(findings),
      cautions: open.map(({ text }) => text),
      accounting,
      figures: [
        overviewFigure(findings),
        overviewMap(findings, surveyOf(work).value.centreline),
        ...linesFigure(work),
        accountFigure(accounting),
      ],
      tables: findingsTables(findings),
    };
  },
});

/** What every link found, gathered into the content of findings.json. */
export function gather(links: readonly Link[], work: Work): StepResult<Findings> {
  return runStep(gatherStep, { links, work }, {});
}

function gathered({ links, work }: Gathering): Gathered {
  const open = [
    ...unanswered(links, work),
    ...absences(links, work),
    ...doubts(checkDecisions(links, work)),
  ];
  const parts = links.map(({ findings }) => findings?.(work) ?? {});
  const findings: Findings = Object.assign(nothingFound(work), ...parts, {
    robustness: work.robustness ?? [],
    cautions: cautionsOf({ links, work }, open),
    decisions: work.decisions.map(decisionFinding),
  });
  return { findings, open };
}

/** Every list empty, in the order in which the file gives them. */
function nothingFound(work: Work): Findings {
  const { name, embankment, length_m, campaigns } = surveyOf(work).value;
  const labels = campaigns.map(({ label }) => label);
  return {
    survey: { name, embankment, length_m: chainage(length_m), campaigns: labels },
    drift: [],
    setAside: [],
    unexplained: [],
    silentNotes: [],
    depth: { slices: [], independentLevels: 0, reliableTo_m: 0, misfit: 0 },
    blocks: [],
    changes: [],
    sections: [],
    seepage: [],
    boreholes: [],
    robustness: [],
    cautions: [],
    decisions: [],
  };
}

/** What the data did not let the steps answer. */
export function unanswered(links: readonly Link[], work: Work): readonly Caution[] {
  return links.flatMap((link) =>
    (link.unanswered?.(work) ?? []).map((text) => ({ step: link.step.name, text })),
  );
}

/** Why lists are empty. */
function absences(links: readonly Link[], work: Work): readonly Caution[] {
  return links.flatMap(({ step, absent }) => {
    const text = absent?.(work) ?? null;
    return text === null ? [] : [{ step: step.name, text }];
  });
}

/** What the record of decisions says otherwise than the steps, as cautions. */
function doubts({ faults, notes }: DecisionCheck): readonly Caution[] {
  const wrong = faults.map(
    ({ path, expected, received }) => `${path} must be ${expected}, got ${received}.`,
  );
  return [...wrong, ...notes].map((text) => ({ step: "decide", text }));
}

/** Every caution once, where it was said first. */
function cautionsOf({ links, work }: Gathering, open: readonly Caution[]): readonly Caution[] {
  const said = [work.survey, ...links.flatMap((link) => resultsOf(work, link))];
  const all = [...said.flatMap(({ cautions }) => cautions), ...open];
  const first = new Map<string, Caution>();
  for (const caution of all) if (!first.has(caution.text)) first.set(caution.text, caution);
  return [...first.values()];
}
