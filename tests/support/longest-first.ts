import { relative } from "node:path";
import { BaseSequencer, type TestSpecification } from "vitest/node";

// The files of each tier that take longest, the longest first. A fresh clone has no times of an
// earlier run, and the runner would go by size: a long file that begins last is waited for alone.
const longest: readonly string[] = [
  "notebooks/catalogue.process.test.ts",
  "notebooks/appendix.process.test.ts",
  "abroad/appendix.process.test.ts",
  "chain/interpret-demo.process.test.ts",
  "docs/site.process.test.ts",
  "kernels/command/ended-early.process.test.ts",
  "kernels/command/import/new-from.process.test.ts",
  "chain/try-alternatives.process.test.ts",
  "notebooks/doc-examples.process.test.ts",
  "notebooks/appendix-page.process.test.ts",
  "kernels/notebook/run-notebook.process.test.ts",
  "kernels/notebook/misbehaving.process.test.ts",
  "data-demo/regeneration.process.test.ts",
  "kernels/command/watch/watch-appendix.process.test.ts",
];

/** Within a tier the longest files first, so that all workers end together. */
export default class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const sorted = await super.sort(files);
    return sorted.toSorted((a, b) => tierOf(a) - tierOf(b) || rankOf(a) - rankOf(b));
  }
}

function tierOf({ project }: TestSpecification): number {
  return project.config.sequence.groupOrder;
}

function rankOf({ project, moduleId }: TestSpecification): number {
  const at = longest.indexOf(relative(`${project.config.root}/tests`, moduleId));
  return at === -1 ? longest.length : at;
}
