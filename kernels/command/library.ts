// For the time until lib/index.ts exports these names.
import { faultLine } from "../../lib/survey/faults.js";
import { type LoadedSurvey, loadSurvey } from "../../lib/survey/load-survey.js";

export { faultLine };

export async function checkSurvey(folder: string): Promise<LoadedSurvey> {
  return loadSurvey(folder, 60);
}

export function checkText(_check: LoadedSurvey): string {
  return "";
}

export async function renderAppendix(
  _notebook: unknown,
  options: { title: string },
): Promise<string> {
  return `<!doctype html><title>${options.title}</title>`;
}
