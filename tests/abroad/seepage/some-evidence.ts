import { seededRandom } from "../../../lib/numerics/random.js";
import type { WorkedBank } from "./judged-bank.js";

/** The banks with each piece of what is known left out or not by the toss of a coin. */
export function withSomeEvidence(banks: readonly WorkedBank[], seed: number): WorkedBank[] {
  const random = seededRandom(seed);
  const isIn = () => random.uniform() < 0.5;
  return banks.map((bank) => ({ ...bank, evidence: someOf(bank.evidence, isIn) }));
}

function someOf(evidence: WorkedBank["evidence"], isIn: () => boolean): WorkedBank["evidence"] {
  const { survey, blocks, changes, sections, otherLines } = evidence;
  return {
    survey: {
      ...survey,
      incidents: isIn() ? survey.incidents : [],
      fieldNotes: isIn() ? survey.fieldNotes : [],
      waterLevels: isIn() ? survey.waterLevels : [],
      boreholes: isIn() ? survey.boreholes : [],
    },
    slices: evidence.slices,
    ...(isIn() && blocks && { blocks }),
    ...(isIn() && changes && { changes }),
    ...(isIn() && sections && { sections }),
    ...(isIn() && otherLines && { otherLines }),
  };
}
