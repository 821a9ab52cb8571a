import { readFileSync } from "node:fs";
import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { demoFolder } from "../../chain/demo.js";
import { madeOnce } from "../../support/made-once.js";
import { banquette, type Ran } from "../banquette.js";

export interface DemoAppendix {
  /** The folder that the command wrote; to be read only. */
  readonly out: string;
  readonly ran: Ran;
}

/** The demo's appendix as the built command makes it, once for all who read it in a run. */
export async function demoAppendix(): Promise<DemoAppendix> {
  const folder = await madeOnce("demo-appendix", async (made) => {
    const ran = await banquette("appendix", demoFolder, "--out", join(made, "out"));
    await writeFile(join(made, "ran.json"), JSON.stringify(ran));
  });
  const ran = JSON.parse(readFileSync(join(folder, "ran.json"), "utf8")) as Ran;
  return { out: join(folder, "out"), ran };
}
