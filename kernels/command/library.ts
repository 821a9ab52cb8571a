// Until lib/index.ts exports renderAppendix.
import type { Notebook } from "../notebook/notebook.js";

export { checkSurvey, checkText, faultLine } from "../../lib/index.js";

export async function renderAppendix(
  _notebook: Notebook,
  options: { readonly title: string },
): Promise<string> {
  return `<!doctype html><title>${options.title}</title>`;
}
