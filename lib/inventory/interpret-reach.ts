import { interpret } from "../chain/interpret.js";
import { openSurvey } from "../place/open-survey.js";
import type { Decision } from "../step/decision.js";
import type { ReachRecord } from "./record/reach-record.js";
import { recordOf } from "./record/record-of.js";

/**
 * One reach of an inventory: its survey folder through the whole chain, as `interpret` does it, and
 * what the inventory keeps of it. Every reach goes through the same chain with the same decisions,
 * so that what differs between reaches is the ground; a notebook in the survey's folder is not run.
 *
 * @param reach - the reach's name.
 * @param folder - its survey folder.
 * @param decisions - what holds for every reach of the inventory.
 * @returns the record: findings, levels of blocks, evidence by cell, places, account.
 * @throws StepError for a folder that cannot be read, with every fault, or what any step throws.
 */
export async function interpretReach(
  reach: string,
  folder: string,
  decisions: readonly Decision[] = [],
): Promise<ReachRecord> {
  const survey = await openSurvey(folder);
  const { value } = await interpret(survey, decisions);
  return recordOf(reach, value);
}
