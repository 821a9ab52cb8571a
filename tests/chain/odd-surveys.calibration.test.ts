// Surveys of odd instruments and odd readings that `check` accepts: the chain follows them to the end
// or refuses them as bad input, in words. No fault of arithmetic, whatever is measured, and no poor fit
// without a diagnosis.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { checkSurvey } from "../../lib/chain/check/check-survey.js";
import { type Findings, interpret } from "../../lib/index.js";
import { type Random, seededRandom } from "../../lib/numerics/random.js";
import { openSurvey } from "../../lib/place/open-survey.js";
import { StepError } from "../../lib/step/step-error.js";
import { GROUND_KINDS, INSTRUMENT_KINDS, makeSurvey, writeSurvey } from "../abroad/index.js";

/** Surveys; some seconds each. */
const SURVEYS = Number(process.env.ODD_SURVEYS ?? 5);
const FIRST_SEED = Number(process.env.ODD_SEED ?? 50_001);

/** A misfit that is never without a diagnosis. */
const POOR = 3;

function isDiagnosed({ cautions }: Findings, campaign: string): boolean {
  const starts = `${campaign}: no layered ground explains the readings`;
  return cautions.some(({ text }) => text.startsWith(starts));
}

type Cells = readonly string[][];
/** Another value in the place of a reading of a channel. */
type Odd = (value: number, row: number, random: Random) => number;

const oddities: readonly Odd[] = [
  (value, _, random) => value * Math.exp(random.normal()),
  (value, _, random) => value + 5000 * random.normal(),
  () => 0,
  (value) => 1e-4 * value,
  (value) => 100 * value,
  (value) => -value,
  (value, row) => (row % 7 === 0 ? value : Number.NaN),
  (value, row) => (row < 20 ? Number.NaN : value),
  (_, row) => 100 + (row % 2),
  (value, row) => (row === 30 ? 1e6 * value : value),
  () => Number.NaN,
];

const frequencies = [100, 400, 9000, 75_000, 900_000];
const spacings = [0.1, 0.6, 1.8, 6, 20];

// biome-ignore lint/suspicious/noExplicitAny: a data package as it stands in its file
function oddInstrument(descriptor: any, random: Random): void {
  const draw = <Item>(list: readonly Item[]) => list[random.integer(list.length)]!;
  for (const { instrument } of descriptor.resources) {
    if (instrument === undefined) continue;
    if (random.uniform() < 0.3) instrument.height_m = draw([0, 0.05, 2, 9]);
    if (random.uniform() < 0.3) instrument.channels.splice(1 + random.integer(3));
    for (const channel of instrument.channels) {
      if (random.uniform() < 0.15) channel.frequency_Hz = draw(frequencies);
      if (random.uniform() < 0.15) channel.separation_m = draw(spacings);
      if (random.uniform() < 0.1) channel.orientation = draw(["HCP", "VCP", "PRP"]);
    }
  }
}

function oddReadings(cells: Cells, fields: readonly string[], random: Random): void {
  const [header = [], ...rows] = cells;
  const most = random.uniform() < 0.15 ? random.integer(4) + 1 : rows.length;
  for (const row of cells.slice(most + 1)) row.splice(0);
  for (const field of fields) {
    if (random.uniform() < 0.5) continue;
    const odd = oddities[random.integer(oddities.length)]!;
    const c = header.indexOf(field);
    for (const [row, own] of rows.entries()) {
      const value = odd(Number(own[c]), row, random);
      if (own.length > 0) own[c] = Number.isNaN(value) ? "" : String(value);
    }
  }
}

function spoil(folder: string, random: Random): void {
  const file = join(folder, "datapackage.json");
  const descriptor = JSON.parse(readFileSync(file, "utf8"));
  for (const { path, role, instrument } of descriptor.resources) {
    if (role !== "readings") continue;
    const text = readFileSync(join(folder, path), "utf8").trim();
    const cells = text.split("\n").map((line) => line.split(","));
    const fields = instrument.channels.map(({ field }: { field: string }) => field);
    oddReadings(cells, fields, random);
    const kept = cells.filter((row) => row.length > 0).map((row) => row.join(","));
    writeFileSync(join(folder, path), `${kept.join("\n")}\n`);
  }
  oddInstrument(descriptor, random);
  writeFileSync(file, JSON.stringify(descriptor));
}

describe("an odd survey that check accepts", () => {
  it(
    "is followed to the end, or refused in words",
    async () => {
      const faults: string[] = [];
      let followed = 0;
      for (let n = 0; n < SURVEYS; n++) {
        const folder = mkdtempSync(join(tmpdir(), "banquette-odd-"));
        const seed = FIRST_SEED + n;
        const random = seededRandom(seed);
        try {
          const ground = GROUND_KINDS[n % GROUND_KINDS.length]!;
          const instrument = INSTRUMENT_KINDS[(2 * n + 1) % INSTRUMENT_KINDS.length]!;
          writeSurvey(
            makeSurvey({ seed, ground, instrument, errors: "noise", length_m: 60 }),
            folder,
          );
          spoil(folder, random);
          const { faults: refused } = await checkSurvey(folder);
          if (refused.length > 0) continue;
          followed += 1;
          const { value } = await interpret(await openSurvey(folder), []);
          for (const { campaign, rms } of value.slices.map((slices) => slices.value)) {
            if (rms > POOR && !isDiagnosed(value.findings, campaign)) {
              faults.push(`${seed}: ${campaign} ends in a misfit of ${rms} without a word`);
            }
          }
        } catch (error) {
          if (!(error instanceof StepError)) faults.push(`${seed}: ${(error as Error).stack}`);
        } finally {
          rmSync(folder, { recursive: true });
        }
      }
      expect(faults).toEqual([]);
      expect(followed).toBeGreaterThan(0);
    },
    120_000 * SURVEYS,
  );
});
