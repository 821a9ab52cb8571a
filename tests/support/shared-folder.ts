// The folder of one run of the tests, for what several files read: made before the first of them and
// removed after the last.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { TestProject } from "vitest/node";

declare module "vitest" {
  interface ProvidedContext {
    readonly sharedFolder: string;
  }
}

export default function setup(project: TestProject): () => void {
  const folder = mkdtempSync(join(tmpdir(), "banquette-tests-"));
  project.provide("sharedFolder", folder);
  return () => rmSync(folder, { recursive: true, force: true });
}
