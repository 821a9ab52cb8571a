// What an inventory takes, from measurements: `npm run build && node dist/bench/inventory/sizing.js`
// prints the page bench/inventory/sizing.md.
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { cpus, tmpdir } from "node:os";
import { join } from "node:path";
import { leastSquares } from "../../lib/numerics/algebra/dense.js";
import { makeSurvey } from "../../tests/abroad/survey.js";
import { writeSurvey } from "../../tests/abroad/written/folder.js";
import { madeInventory } from "../../tests/inventory/made/judge-inventory.js";
import { writeMade } from "../../tests/inventory/made/write-made.js";
import { bytesIn, type Measured, measured } from "./measured.js";

interface Job extends Measured {
  readonly km: number;
  readonly campaigns: number;
  readonly bytes: number;
  readonly files: number;
}

const LENGTHS_M = [200, 400, 800];
const CAMPAIGNS = [1, 2];
const GATHERED = [250, 500, 1000];

function job(length_m: number, campaigns: number): Job {
  return inFolder((folder) => {
    const made = makeSurvey({
      ...{ seed: 5, ground: "blocks", instrument: "five frequencies HCP, VCP", errors: "field" },
      ...{ length_m, campaigns, slopes: { bank: "broad" } },
    });
    writeSurvey(made, join(folder, "bank"));
    const taken = measured("reach", folder);
    return { km: length_m / 1000, campaigns, ...taken, ...bytesIn(join(folder, "out")) };
  });
}

async function gathering(count: number): Promise<Measured & { readonly reaches: number }> {
  const folder = mkdtempSync(join(tmpdir(), "banquette-bench-"));
  try {
    const reaches = await writeMade(folder, madeInventory(count, 1));
    writeFileSync(join(folder, "reaches.json"), JSON.stringify(reaches));
    return { reaches: count, ...measured("gather", folder) };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function inFolder<Value>(use: (folder: string) => Value): Value {
  const folder = mkdtempSync(join(tmpdir(), "banquette-bench-"));
  try {
    return use(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** fixed + each × km × campaigns, by least squares; none below 0. */
function model(jobs: readonly Job[], of: (one: Job) => number) {
  const rows = jobs.flatMap(({ km, campaigns }) => [1, km * campaigns]);
  const [fixed = 0, each = 0] = leastSquares(Float64Array.from(rows), Float64Array.from(jobs, of));
  return { fixed: Math.max(0, fixed), each: Math.max(0, each) };
}

const COUNTRY = { km: 10_000, campaigns: 20, cores: 64 } as const;

const jobs = LENGTHS_M.flatMap((length_m) => CAMPAIGNS.map((count) => job(length_m, count)));
const gathered = [];
for (const count of GATHERED) gathered.push(await gathering(count));

const processor = model(jobs, ({ processor_s }) => processor_s);
const memory = model(jobs, ({ peak_MB }) => peak_MB);
const bytes = model(jobs, (one) => one.bytes / 1e3);
const files = model(jobs, (one) => one.files);
const [few, many] = [gathered[0]!, gathered.at(-1)!];
const exponent =
  Math.log(many.processor_s / few.processor_s) / Math.log(many.reaches / few.reaches);

function country(reach_km: number): string {
  const reaches = COUNTRY.km / reach_km;
  const load = reach_km * COUNTRY.campaigns;
  const job_s = processor.fixed + processor.each * load;
  const hours = (reaches * job_s) / COUNTRY.cores / 3600;
  const peak_MB = memory.fixed + memory.each * load;
  const gigabytes = (reaches * (bytes.fixed + bytes.each * load)) / 1e6;
  const gather_s = many.processor_s * (reaches / many.reaches) ** Math.max(1, exponent);
  return row([
    `${reach_km}`,
    reaches.toLocaleString("en"),
    (job_s / 60).toFixed(1),
    hours.toFixed(1),
    ((COUNTRY.cores * peak_MB) / 1000).toFixed(0),
    gigabytes.toFixed(1),
    ((reaches * (files.fixed + files.each * load)) / 1000).toFixed(0),
    (gather_s / 60).toFixed(1),
  ]);
}

const row = (cells: readonly string[]) => `| ${cells.join(" | ")} |`;
const shown = ({ fixed, each }: ReturnType<typeof model>, digits: number) =>
  [fixed.toFixed(digits), each.toFixed(digits)] as const;

console.log(`# What an inventory takes

Measured by \`node dist/bench/inventory/sizing.js\` on ${cpus().length} cores (${cpus()[0]?.model.trim()}), Node
${process.versions.node}; processor seconds, so that other load on the machine does not count as far as it
leaves caches alone. Jobs are seeded surveys of ten channels with errors of the field, one process each,
from reading to the tables written. They change with every step that becomes faster: run it again.

## Jobs

${row(["length (km)", "campaigns", "processor (s)", "peak (MB)", "tables (kB)", "files"])}
|---|---|---|---|---|---|
${jobs
  .map((one) =>
    row([
      `${one.km}`,
      `${one.campaigns}`,
      one.processor_s.toFixed(1),
      one.peak_MB.toFixed(0),
      (one.bytes / 1e3).toFixed(0),
      `${one.files}`,
    ]),
  )
  .join("\n")}

Fixed part of a job, and what each kilometre and campaign adds (least squares over the table):

${row(["what", "a job", "a km and campaign"])}
|---|---|---|
${row(["processor (s)", ...shown(processor, 1)])}
${row(["peak memory (MB)", ...shown(memory, 0)])}
${row(["tables (kB)", ...shown(bytes, 0)])}
${row(["files", ...shown(files, 1)])}

## Gathering

Made reaches of a kilometre (\`tests/inventory/made\`), all of them together; what holds over all reaches is
estimated anew each time.

${row(["reaches", "processor (s)", "peak (MB)"])}
|---|---|---|
${gathered
  .map((one) => row([`${one.reaches}`, one.processor_s.toFixed(1), one.peak_MB.toFixed(0)]))
  .join("\n")}

Processor time grows with the number of reaches to the power ${exponent.toFixed(2)}.

## ${COUNTRY.km.toLocaleString("en")} km with ${COUNTRY.campaigns} campaigns on ${COUNTRY.cores} cores

All campaigns of a reach are one job: a reach with a new campaign is done again whole.

${row([
  "reach (km)",
  "jobs",
  "a job (min)",
  "all jobs (h)",
  "memory (GB)",
  "tables (GB)",
  "files (thousand)",
  "gathering (min)",
])}
|---|---|---|---|---|---|---|---|
${[1, 2, 5].map(country).join("\n")}

Extrapolated: no job of ${COUNTRY.campaigns} campaigns and no gathering of more than ${many.reaches} reaches was run. Comparing
campaigns grows with their number as the model has it (each with the one before); trends over all campaigns
are small beside the inversions. The engine's own work on some thousand jobs, and a cluster's waiting, come
on top.`);
