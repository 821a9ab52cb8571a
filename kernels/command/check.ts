import { checkSurvey, checkText, faultLine } from "../../lib/index.js";
import { InputFault } from "./failure.js";

/**
 * `banquette check`: on standard output what each step will have to work with, on standard error
 * every fault. Writes nothing else.
 */
export async function checkCommand(folder: string): Promise<void> {
  const check = await checkSurvey(folder);
  const paragraphs = checkText(check).trimEnd().split("\n\n");
  // The first paragraph tells the faults, which belong on standard error.
  const shown = check.faults.length > 0 ? paragraphs.slice(1) : paragraphs;
  if (shown.length > 0) process.stdout.write(`${shown.join("\n\n")}\n`);
  if (check.faults.length > 0) throw new InputFault(check.faults.map(faultLine));
}

/** Throws every fault of a survey folder that `check` would refuse. */
export async function refuseFaulty(folder: string): Promise<void> {
  const { faults } = await checkSurvey(folder);
  if (faults.length > 0) throw new InputFault(faults.map(faultLine));
}
