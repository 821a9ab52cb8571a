import { offeredHoles } from "../../boreholes/siting/offered-holes.js";
import { sitingInput } from "../../boreholes/siting/site-boreholes.js";
import type { Interpretation } from "../../chain/interpret.js";
import { readingsOf, referenceOf, surveyOf } from "../../chain/work.js";
import { wetIncidents } from "../../seepage/evidence/noted.js";
import { accountRows } from "./account-rows.js";
import { blockLevels } from "./block-levels.js";
import { evidenceCells } from "./evidence-cells.js";
import { pathsAlong } from "./paths.js";
import { RECORD_FORM, type ReachRecord } from "./reach-record.js";
import { unknownStretches } from "./unknown-stretches.js";

/** A hole each 50 m at the most, and no more than this many a reach. */
const OFFERED = { each_m: 50, most: 40 } as const;

/** The record of an interpreted reach; the same work gives the same record. */
export function recordOf(reach: string, work: Interpretation): ReachRecord {
  const survey = surveyOf(work).value;
  const { findings } = work;
  const { stretch, point, line } = pathsAlong(survey);
  const levels = blockLevels(referenceOf(work).value, work.blocks.value.blocks);
  const most = Math.min(OFFERED.most, Math.ceil(survey.length_m / OFFERED.each_m));
  const wet = wetIncidents(survey.incidents);
  return {
    form: RECORD_FORM,
    reach,
    embankment: survey.embankment,
    length_m: findings.survey.length_m,
    campaigns: findings.survey.campaigns,
    campaign: work.blocks.value.campaign,
    line,
    findings,
    blocks: findings.blocks.map((block, i) => ({ path: stretch(block), levels: levels[i] ?? [] })),
    paths: {
      changes: findings.changes.map(stretch),
      seepage: findings.seepage.map(stretch),
      boreholes: findings.boreholes.map(({ chainage_m, offset_m }) => point(chainage_m, offset_m)),
    },
    cells: evidenceCells(work.seepage.value),
    incidents: survey.incidents.map((one) => ({
      ...{ date: one.date, chainage_m: one.chainage_m, kind: one.kind },
      isWet: wet.includes(one),
    })),
    drilled_m: survey.boreholes.map(({ chainage_m }) => chainage_m),
    offered: offeredHoles(sitingInput(work), most).map((hole) => ({
      ...hole,
      at: point(hole.chainage_m, hole.offset_m),
    })),
    account: accountRows(readingsOf(work)),
    unknown: unknownStretches(work),
  };
}
