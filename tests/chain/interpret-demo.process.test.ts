// What the chain recovers of the demo's truth, under the decisions of the shipped notebook. The limits
// are those that the project set itself for its demo; the truth is in data-demo/sedgeholm-truth, made
// by the seeded generator.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { type Interpretation, interpret } from "../../lib/chain/interpret.js";
import { readingsOf } from "../../lib/chain/work.js";
import { accountingCsv } from "../../lib/handover/accounting-csv.js";
import { median } from "../../lib/numerics/statistics/robust.js";
import { openSurvey } from "../../lib/place/open-survey.js";
import { closes, setAsideTotal } from "../../lib/step/account.js";
import { type Decision, decide } from "../../lib/step/decision.js";
import type { StepResult } from "../../lib/step/step-result.js";
import { demoAppendix } from "../notebooks/support/demo-appendix.js";
import { demoFolder, demoTruth, logMean, overlap } from "./demo.js";

let out: string;
let decisions: readonly Decision[];
let result: StepResult<Interpretation>;
const json = (name: string) => JSON.parse(readFileSync(join(out, name), "utf8"));

beforeAll(async () => {
  ({ out } = await demoAppendix());
  const recorded: readonly Pick<Decision, "name" | "value" | "because" | "alternatives">[] =
    json("provenance.json").decisions;
  // Every reason of the shipped notebook is the tool's proposal.
  decisions = recorded.map(({ name, value, because: proposed, alternatives }) =>
    decide(name, value, { proposed, alternatives }),
  );
  result = await interpret(await openSurvey(demoFolder), decisions);
});
const findings = () => result.value.findings;

describe("the chain on the demo survey", () => {
  it("finds what the appendix notebook finds under the same decisions", () => {
    expect(decisions.length).toBeGreaterThan(5);
    expect(JSON.parse(JSON.stringify(findings()))).toEqual(json("findings.json"));
    const accounted = readFileSync(join(out, "accounting.csv"), "utf8");
    expect(accountingCsv(readingsOf(result.value))).toBe(accounted);
  });

  it("covers every real metal object, in each campaign in which it was there", () => {
    for (const object of demoTruth.metal.filter((one) => !one.silent)) {
      for (const campaign of object.campaigns) {
        const covered = findings().setAside.some(
          (stretch) =>
            stretch.campaign === campaign &&
            stretch.from_m <= object.footprint!.from_m + 2 &&
            stretch.to_m >= object.footprint!.to_m - 2,
        );
        expect(covered, `${object.object} in ${campaign}`).toBe(true);
      }
    }
  });

  it("lists the two objects that nobody noted as unexplained, and nothing else", () => {
    const unnoted = demoTruth.metal.filter((one) => !one.noted);
    expect(unnoted).toHaveLength(2);
    for (const object of unnoted) {
      for (const campaign of object.campaigns) {
        const listed = findings().unexplained.filter(
          (one) => one.campaign === campaign && overlap(one, object.footprint!) > 0,
        );
        expect(listed, `${object.object} in ${campaign}`).toHaveLength(1);
      }
    }
    expect(findings().unexplained).toHaveLength(
      unnoted.reduce((sum, one) => sum + one.campaigns.length, 0),
    );
  });

  it("lists the note without a trace", () => {
    const silent = demoTruth.metal.filter((one) => one.silent);
    expect(findings().silentNotes.map(({ object, from_m }) => [object, from_m])).toEqual(
      silent.map(({ object, from_m }) => [object, from_m]),
    );
  });

  it("sets at most 12 % of the readings aside and accounts for every one", () => {
    const account = result.accounting!;
    expect(setAsideTotal(account) / account.readings).toBeLessThanOrEqual(0.12);
    expect(closes(account)).toBe(true);
    const rows = result.value.survey.value.inputs
      .filter((input) => input.path.startsWith("readings-"))
      .reduce((sum, input) => sum + input.rows!, 0);
    expect(account.readings).toBe(rows);
  });

  it("finds the drift within 15 % on every channel whose drift exceeds its noise", () => {
    const drifting = demoTruth.drift.filter(
      (one) => Math.abs(one.perHour) * one.hours > one.readingSd,
    );
    expect(drifting.length).toBeGreaterThan(20);
    for (const truth of drifting) {
      const found = findings().drift.find(
        (one) => one.campaign === truth.campaign && one.channel === truth.channel,
      )!;
      const off = Math.abs(found.perHour / truth.perHour - 1);
      expect(off, `${truth.campaign} ${truth.channel}: ${found.perHour}`).toBeLessThanOrEqual(0.15);
    }
  });

  it("finds at least five of six block boundaries within 12 m and at most two more", () => {
    const found = findings()
      .blocks.slice(1)
      .map((block) => block.from_m);
    const near = demoTruth.boundaries_m.filter((x) => found.some((y) => Math.abs(x - y) <= 12));
    const spurious = found.filter(
      (y) => !demoTruth.boundaries_m.some((x) => Math.abs(x - y) <= 12),
    );
    expect(demoTruth.boundaries_m).toHaveLength(6);
    expect(near.length).toBeGreaterThanOrEqual(5);
    expect(spurious.length).toBeLessThanOrEqual(2);
  });

  it("finds both changed stretches, the right way, and no false one longer than 20 m", () => {
    for (const truth of demoTruth.changes) {
      const same = findings().changes.filter((one) => one.direction === truth.direction);
      const best = Math.max(0, ...same.map((one) => overlap(one, truth)));
      expect(best, `${truth.direction} at ${truth.from_m} m`).toBeGreaterThanOrEqual(0.6);
    }
    const invented = findings().changes.filter(
      (one) => !demoTruth.changes.some((truth) => overlap(one, truth) > 0),
    );
    expect(invented.filter((one) => one.to_m - one.from_m > 20)).toEqual([]);
  });

  it("ranks the lens among the two strongest seepage zones, moderate at the least", () => {
    const firstTwo = findings().seepage.slice(0, 2);
    const lens = firstTwo.find((zone) => overlap(zone, demoTruth.lens) > 0);
    expect(lens?.band).toMatch(/^(moderate|high)$/);
  });

  it("gives slice resistivities within 25 % (median) of the truth over the same depth", () => {
    const { depthEdges_m, spacing_m, field } = demoTruth.grid;
    for (const { value } of result.value.slices) {
      for (const [k, slice] of value.slices.entries()) {
        if (!slice.reliable) continue;
        const errors = Array.from(value.chainage_m, (x, i) => {
          const column = field[value.campaign]![Math.round(x / spacing_m)];
          if (column === undefined) return Number.NaN;
          const truth = logMean(column, depthEdges_m, slice);
          return Math.abs(10 ** (value.log10Resistivity[k]![i]! - truth) - 1);
        });
        expect(median(errors), `${value.campaign} ${slice.top_m} m`).toBeLessThanOrEqual(0.25);
      }
    }
  });

  it("has every list of the contract and says why a list is empty", () => {
    const lists = [
      "drift setAside unexplained silentNotes blocks changes sections seepage boreholes",
      "robustness cautions",
    ].flatMap((names) => names.split(" "));
    for (const name of lists) expect(findings()).toHaveProperty(name, expect.any(Array));
    const said = (step: string) => findings().cautions.some((caution) => caution.step === step);
    expect(findings().sections.map(({ line }) => line)).toEqual(["R1", "R2", "R3", "R4"]);
    expect(said("siteBoreholes")).toBe(true);
  });

  it("sites boreholes in the makes that none has met, away from what was set aside", () => {
    const { boreholes, setAside } = findings();
    expect(boreholes.map(({ priority }) => priority)).toEqual([1, 2, 3, 4, 5]);
    // The repair stretch and the clay over peat: of the latter BH5 met the lens alone.
    const [, , , , repair, peat] = demoTruth.boundaries_m;
    const within = (from: number, to: number) =>
      boreholes.some(({ chainage_m: x, place }) => place === "crest" && x > from && x < to);
    expect(within(1490, repair ?? 0)).toBe(true);
    expect(within(demoTruth.lens.to_m, peat ?? 0)).toBe(true);
    for (const { chainage_m: x } of boreholes) {
      for (const one of setAside) expect(x < one.from_m - 9 || x > one.to_m + 9).toBe(true);
    }
  });
});
