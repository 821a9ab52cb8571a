// The survey folder that `banquette new` writes, filled in as a user would.
import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { seededRandom } from "../../../lib/numerics/random.js";

export async function linesOf(file: string): Promise<readonly string[]> {
  return (await readFile(file, "utf8")).split("\n");
}

/** A bank of 400 m whose ground conducts twice as well beyond 200 m. */
export async function fillIn(folder: string): Promise<void> {
  const file = join(folder, "datapackage.json");
  const filled = (await readFile(file, "utf8"))
    .replace('"title": ""', '"title": "A bank"')
    .replace('"embankment": ""', '"embankment": "Sedgeholm Bank"')
    .replace('"waterway": ""', '"waterway": "River Wend"')
    .replace('"waterside": ""', '"waterside": "left"')
    .replace('"crestElevation_m": null', '"crestElevation_m": 6.2')
    .replace('"foundationElevation_m": null', '"foundationElevation_m": 2.4')
    .replace('"designWaterLevel_m": null', '"designWaterLevel_m": 5.6')
    .replaceAll('"campaign": ""', '"campaign": "2031-10"')
    .replaceAll('"frequency_Hz": null', '"frequency_Hz": 10000')
    .replaceAll('"orientation": ""', '"orientation": "HCP"')
    .replaceAll(/"(\w+)": null/g, '"$1": 2');
  await writeFile(file, filled);
  const line = join(folder, "centreline.geojson");
  const geojson = await readFile(line, "utf8");
  await writeFile(line, geojson.replace(/\[\s*\]/, "[[3, 54], [3.0061, 54]]"));
  const random = seededRandom(5);
  const rows = Array.from({ length: 400 }, (_, i) => {
    const time = new Date(Date.UTC(2031, 9, 14, 8, 0, i)).toISOString();
    const q = (i < 200 ? 500 : 1000) + 8 * random.normal();
    return `${time},${(3 + i / 65_600).toFixed(7)},54,,,${q.toFixed(1)},${(9 * random.normal()).toFixed(1)}`;
  });
  const [header] = await linesOf(join(folder, "readings-1.csv"));
  await writeFile(join(folder, "readings-1.csv"), `${[header, ...rows].join("\n")}\n`);
}
