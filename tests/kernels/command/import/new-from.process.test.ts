// From the raw text of four invented loggers to an appendix, nothing but the command line between.
import { mkdir, readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { type InstrumentKind, type MadeSurvey, makeSurvey } from "../../../abroad/index.js";
import { openSurvey } from "../../../abroad/lib.js";
import {
  type LoggerStyle,
  type RawFiles,
  rawCentreline,
  rawFiles,
} from "../../../abroad/written/raw-loggers.js";
import { expectClose } from "../../../support/expect-close.js";
import { withFolder } from "../../support/cells.js";
import { banquetteIn } from "../banquette.js";

interface NewUser {
  readonly style: LoggerStyle;
  readonly instrument: InstrumentKind;
  readonly centreline: "geojson" | "table" | "walk";
  /** What the files do not tell. */
  readonly words: readonly string[];
}

const USERS: readonly NewUser[] = [
  {
    style: "semicolons and decimal commas",
    instrument: "2 and 4 m, mS/m",
    centreline: "geojson",
    words: ["--timezone", "Europe/Amsterdam", "--answer", "height_m=0.5"],
  },
  {
    style: "two date columns",
    instrument: "three separations HCP",
    centreline: "table",
    words: ["--crs", "32631", "--answer", "height_m=0.3"],
  },
  {
    style: "tabs and Latin-1",
    instrument: "five frequencies HCP",
    centreline: "walk",
    words: [
      ...["--timezone", "UTC", "--answer", "height_m=0.9", "separation_m=1.8", "orientation=HCP"],
      "centreline=from the walk",
    ],
  },
  {
    style: "blanks and units in the header",
    instrument: "frequencies and separations",
    centreline: "geojson",
    words: ["--answer", "height_m=0.6", "embankment=Sedgeholm Bank", "waterway=River Wend"],
  },
];

const LENGTH_M = 80;

function madeFor({ instrument }: NewUser, campaigns: number): MadeSurvey {
  return makeSurvey({
    seed: 61,
    ground: "peat",
    instrument,
    errors: "noise",
    length_m: LENGTH_M,
    campaigns,
  });
}

async function put(folder: string, ...all: readonly RawFiles[]): Promise<readonly string[]> {
  await mkdir(join(folder, "from"), { recursive: true });
  const names = all.flatMap((files) => [...files.keys()].map((name) => join("from", name)));
  for (const files of all) {
    for (const [name, bytes] of files) await writeFile(join(folder, "from", name), bytes);
  }
  return names;
}

/** The raw files of a campaign, and of the centreline with the first. */
async function putCampaign(
  folder: string,
  user: NewUser,
  { made, campaign }: { readonly made: MadeSurvey; readonly campaign: number },
): Promise<readonly string[]> {
  const logs = rawFiles(made.campaigns[campaign]!, user.style);
  if (campaign > 0 || user.centreline === "walk") return put(folder, logs);
  return put(folder, logs, rawCentreline(made, user.centreline));
}

/** Files hold hundredths of a unit at worst, and the clock's seconds. */
async function expectAsMade(folder: string, made: MadeSurvey): Promise<void> {
  const { campaigns } = (await openSurvey(folder)).value;
  expect(campaigns.map(({ label }) => label)).toEqual(made.campaigns.map(({ label }) => label));
  for (const [k, { passes, baseChecks }] of campaigns.entries()) {
    const { walks, checks } = made.campaigns[k]!;
    expect(baseChecks.length).toBe(checks.length);
    for (const [w, pass] of passes.entries()) {
      const walk = walks[w]!;
      expect([...pass.time_s]).toEqual([...walk.steps.time_s]);
      expect(pass.instrument.height_m).toBe(walk.height_m);
      expect(pass.instrument.channels.map(withoutField)).toEqual(walk.channels.map(withoutField));
      for (const [c, column] of walk.values.entries()) {
        column.forEach((value, i) => {
          expectClose(pass.values[c]![i]!, value, { absolute: 0.0501 });
        });
      }
      pass.chainage_m.forEach((x, i) => {
        // A line made from the walk begins where the walk does, half a metre on.
        expectClose(x, walk.steps.chainage_m[i]!, { absolute: 1.2 });
      });
    }
  }
}

async function filesOf(folder: string): Promise<Readonly<Record<string, string>>> {
  const names = await readdir(folder, { recursive: true });
  const files = names.filter((name) => name.includes(".")).sort();
  const texts = files.map(async (name) => [name, await readFile(join(folder, name), "latin1")]);
  return Object.fromEntries(await Promise.all(texts));
}

function withoutField<One extends { readonly field: string }>({ field, ...rest }: One) {
  return rest;
}

describe("a new user", () => {
  it.each(USERS)("comes from $style to an appendix", async (user) => {
    await withFolder(async (folder) => {
      const made = madeFor(user, 1);
      const names = await putCampaign(folder, user, { made, campaign: 0 });
      const made1 = await banquetteIn(folder, ["new", "bank", "--from", ...names, ...user.words]);
      expect(made1.exitCode, made1.err).toBe(0);
      expect(made1.out).toContain("checked: 0 faults");
      expect(made1.out).toContain('"banquette appendix bank" makes the appendix');
      await expectAsMade(join(folder, "bank"), made);
      for (const name of names) {
        const raw = await readFile(join(folder, "bank/raw", name.slice("from/".length)));
        expect(raw.equals(await readFile(join(folder, name)))).toBe(true);
      }
      const appendix = await banquetteIn(folder, ["appendix", "bank", "--out", "out"]);
      expect(appendix.exitCode, appendix.err).toBe(0);
      expect(appendix.err).toContain("interpretation.ipynb");
      const findings = JSON.parse(await readFile(join(folder, "out/findings.json"), "utf8"));
      expect(findings.depth.misfit).toBeLessThan(2);
      expect(findings.blocks.length).toBeGreaterThan(0);
    });
  });

  it.each(USERS)("adds a second campaign of $style by one command", async (user) => {
    await withFolder(async (folder) => {
      const made = madeFor(user, 2);
      const first = await putCampaign(folder, user, { made, campaign: 0 });
      await banquetteIn(folder, ["new", "bank", "--from", ...first, ...user.words]);
      const second = await putCampaign(folder, user, { made, campaign: 1 });
      const added = await banquetteIn(folder, ["add", "bank", "--from", ...second]);
      expect(added.exitCode, added.err).toBe(0);
      expect(added.out).toContain("campaign 2032-04");
      expect(added.out).toMatch(/^taken as in the import before: .*height_m = /m);
      await expectAsMade(join(folder, "bank"), made);
      const before = await readdir(join(folder, "bank"));
      const again = await banquetteIn(folder, ["add", "bank", "--from", ...second]);
      expect(again.exitCode).toBe(1);
      expect(again.err).toMatch(/: must be new to the survey, got the bytes of raw\//);
      await writeFile(join(folder, second[0]!), "other,bytes\n1,2\n");
      const clash = await banquetteIn(folder, ["add", "bank", "--from", second[0]!]);
      expect(clash.exitCode).toBe(1);
      expect(clash.err).toMatch(/: must have a name of its own, got that of raw\//);
      expect(await readdir(join(folder, "bank"))).toEqual(before);
    });
  });

  it("adds again what was killed before the descriptor was written", async () => {
    const user = USERS[0]!;
    await withFolder(async (folder) => {
      const made = madeFor(user, 2);
      const first = await putCampaign(folder, user, { made, campaign: 0 });
      await banquetteIn(folder, ["new", "bank", "--from", ...first, ...user.words]);
      const descriptor = join(folder, "bank/datapackage.json");
      const before = await readFile(descriptor);
      const second = await putCampaign(folder, user, { made, campaign: 1 });
      const add = () => banquetteIn(folder, ["add", "bank", "--from", ...second]);
      expect((await add()).exitCode).toBe(0);
      const whole = await filesOf(join(folder, "bank"));
      await writeFile(descriptor, before);
      const again = await add();
      expect(again.exitCode, again.err).toBe(0);
      expect(await filesOf(join(folder, "bank"))).toEqual(whole);
    });
  });

  it("is asked in a file what the logger does not say, and gives the file back", async () => {
    const user = USERS[2]!;
    await withFolder(async (folder) => {
      const made = madeFor(user, 1);
      const names = await putCampaign(folder, user, { made, campaign: 0 });
      const asked = await banquetteIn(folder, ["new", "bank", "--from", ...names]);
      expect(asked.exitCode).toBe(1);
      const keys = asked.err.match(/(?<=^banquette: )\w+(?=: must be answered)/gm);
      expect(keys).toEqual(["timezone", "separation_m", "orientation", "height_m", "centreline"]);
      expect((await readdir(folder)).sort()).toEqual(["bank.answers.txt", "from"]);
      const file = join(folder, "bank.answers.txt");
      const text = await readFile(file, "utf8");
      const answers = { timezone: "UTC", separation_m: "1.8", orientation: "HCP", height_m: "0.9" };
      const filled = Object.entries({ ...answers, centreline: "from the walk" }).reduce(
        (done, [key, answer]) => done.replace(`${key} = \n`, `${key} = ${answer}\n`),
        text,
      );
      await writeFile(file, filled);
      const words = ["new", "bank", "--from", ...names, "--answers", "bank.answers.txt"];
      const well = await banquetteIn(folder, words);
      expect(well.exitCode, well.err).toBe(0);
      await expectAsMade(join(folder, "bank"), made);
      const again = ["new", "again", "--from", ...names, "--answers", "bank/import-answers.txt"];
      expect((await banquetteIn(folder, again)).exitCode).toBe(0);
      for (const name of await readdir(join(folder, "bank"))) {
        if (!name.endsWith(".csv")) continue;
        const [one, other] = await Promise.all(
          ["bank", "again"].map((bank) => readFile(join(folder, bank, name), "utf8")),
        );
        expect(other).toBe(one);
      }
    });
  });
});
