import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { expectClose } from "../../support/expect-close.js";
import { INSTRUMENT_KINDS } from "../field/instruments.js";
import { checkSurvey, interpret, openSurvey } from "../lib.js";
import { type MadeSurvey, makeSurvey, type SurveyPlan } from "../survey.js";
import { surveyFiles, writeSurvey } from "./folder.js";
import { campaignsOf } from "./in-memory.js";

async function inFolder<Result>(
  made: MadeSurvey,
  use: (folder: string) => Promise<Result>,
): Promise<Result> {
  const folder = mkdtempSync(join(tmpdir(), "banquette-abroad-"));
  try {
    writeSurvey(made, folder);
    return await use(folder);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

const PLAN: Omit<SurveyPlan, "instrument"> = {
  seed: 8,
  ground: "peat",
  errors: "field",
  length_m: 150,
};

describe("folders of the menagerie", () => {
  it("are the same text for the same seed", () => {
    const plan = { ...PLAN, instrument: "2 and 4 m, mS/m", campaigns: 2, toe: true } as const;
    expect(surveyFiles(makeSurvey(plan))).toEqual(surveyFiles(makeSurvey(plan)));
  });

  it("open without a fault for each instrument, as what is in memory", async () => {
    for (const instrument of INSTRUMENT_KINDS) {
      const made = makeSurvey({ ...PLAN, instrument });
      const [campaign] = campaignsOf(made);
      const opened = await inFolder(made, async (folder) => {
        expect((await checkSurvey(folder)).faults).toEqual([]);
        return (await openSurvey(folder)).value;
      });
      expectClose(opened.length_m, made.length_m, { absolute: 0.01 });
      const [read] = opened.campaigns;
      expect(read!.baseChecks.length).toBe(campaign!.baseChecks.length);
      for (const [p, pass] of read!.passes.entries()) {
        const kept = campaign!.passes[p]!;
        expect(pass.instrument).toEqual(kept.instrument);
        expect([...pass.time_s]).toEqual([...kept.time_s]);
        // Cells have one decimal in ppm, three in mS/m.
        pass.values[0]!.forEach((value, i) => {
          expectClose(value, kept.values[0]![i]!, { absolute: 0.051 });
        });
        // Jitter of 0.3 m may be smoothed away.
        pass.chainage_m.forEach((x, i) => {
          expectClose(x, kept.chainage_m[i]!, { absolute: 1.5 });
        });
      }
    }
  });

  it("open with every error in them, and with a toe line beside the crest", async () => {
    const made = makeSurvey({
      ...PLAN,
      instrument: "three separations HCP, VCP",
      errors: "rough",
      campaigns: 2,
      toe: true,
    });
    const opened = await inFolder(made, async (folder) => (await openSurvey(folder)).value);
    expect(opened.campaigns.map(({ label }) => label)).toEqual(["2031-10", "2032-04"]);
    const [toe] = opened.otherLines!;
    expect(opened.walkedLine!.line).toBe("crest");
    expect(toe!.line).toBe("toe");
    expectClose(toe!.offset_m, -14, { absolute: 0.5 });
    expect(toe!.survey.campaigns.map(({ label }) => label)).toEqual(["2031-10", "2032-04"]);
    for (const [campaigns, line] of [
      [opened.campaigns, "crest"],
      [toe!.survey.campaigns, "toe"],
    ] as const) {
      const names = campaigns.flatMap(({ passes }) => passes.flatMap((pass) => pass.line));
      expect(new Set(names)).toEqual(new Set([line]));
    }
  });

  it("go through the whole interpretation", async () => {
    const changes = [{ from_m: 60, to_m: 100, top_m: 0.5, base_m: 2, factor: 0.6 }];
    const instrument = "five frequencies HCP, VCP";
    const made = makeSurvey({ ...PLAN, instrument, campaigns: 2, changes });
    const { findings, slices } = await inFolder(made, async (folder) => {
      return (await interpret(await openSurvey(folder))).value;
    });
    expect(slices.length).toBe(2);
    expect(findings.survey.campaigns).toEqual(["2031-10", "2032-04"]);
  });
});
