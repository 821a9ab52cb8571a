// A survey of 100 m and a notebook of a few cells, made into an appendix by the built command.
import { cp, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { notebookText } from "../../../../kernels/notebook/notebook-text.js";
import { makeSurvey, writeSurvey } from "../../../abroad/index.js";
import { code, notebook, text } from "../../support/notebooks.js";
import { banquetteIn, type Ended } from "../banquette.js";

const short = notebook(
  text("title", "# A short appendix"),
  code("parameters", 'const surveyFolder = ".";\nconst outputFolder = ".";', "parameters"),
  code("imports", 'import { correctDrift, handOver, interpret, openSurvey } from "banquette";'),
  code("survey", "const survey = await openSurvey(surveyFolder);\nsurvey.value.length_m"),
  code("drift", "correctDrift(survey.value.campaigns[0], { evidence: 6 })"),
  code("chain", "const work = await interpret(survey, []);\nwork.value.blocks"),
  code("hand", "await handOver(work.value.findings, work.value, { folder: outputFolder })"),
);

/** Writes the survey "bank" and the notebook "short.ipynb" into the folder. */
export async function writeShortSurvey(folder: string): Promise<void> {
  const plan = { seed: 3, ground: "blocks", instrument: "three separations HCP, VCP" } as const;
  writeSurvey(makeSurvey({ ...plan, errors: "noise", length_m: 100 }), join(folder, "bank"));
  await writeFile(join(folder, "short.ipynb"), notebookText(short));
}

/** Writes the survey "bank" and its appendix "out" into the folder. */
export async function makeAppendix(folder: string): Promise<Ended> {
  await writeShortSurvey(folder);
  return banquetteIn(folder, ["appendix", "bank", "--notebook", "short.ipynb", "--out", "out"]);
}

/** A copy of survey and appendix. */
export async function copied(from: string, to: string): Promise<void> {
  for (const name of ["bank", "out"])
    await cp(join(from, name), join(to, name), { recursive: true });
}

/** Replaces a text that a file must hold. */
export async function altered(file: string, from: string | RegExp, to: string): Promise<void> {
  const before = await readFile(file, "utf8");
  const after = before.replace(from, () => to);
  if (after === before) throw new Error(`${file} does not hold ${from}`);
  await writeFile(file, after);
}
