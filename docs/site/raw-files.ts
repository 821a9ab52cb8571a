import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { makeSurvey } from "../../tests/abroad/index.js";
import { rawCentreline, rawFiles } from "../../tests/abroad/written/raw-loggers.js";

/** What the tutorial begins with: two campaigns along 100 m of an invented bank, as a logger wrote them. */
export async function writeRawFiles(folder: string): Promise<void> {
  const made = makeSurvey({
    seed: 3,
    ground: "blocks",
    instrument: "three separations HCP, VCP",
    errors: "noise",
    length_m: 100,
    campaigns: 2,
  });
  await mkdir(folder, { recursive: true });
  const logs = made.campaigns.map((one) => rawFiles(one, "semicolons and decimal commas"));
  for (const files of [rawCentreline(made, "geojson"), ...logs]) {
    for (const [name, bytes] of files) await writeFile(join(folder, name), bytes);
  }
}
