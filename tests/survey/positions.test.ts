import { describe, expect, it } from "vitest";
import { CAMPAIGNS } from "../../data-demo/generator/facts.js";
import { fieldDay } from "../../data-demo/generator/walk.js";
import { seededRandom } from "../../lib/numerics/random.js";
import { median } from "../../lib/numerics/robust.js";
import type { OpenSurveyOptions } from "../../lib/place/open-options.js";
import { openSurvey } from "../../lib/place/open-survey.js";
import { placeReadings } from "../../lib/place/place-readings.js";
import { closes } from "../../lib/step/account.js";
import { expectClose } from "../support/expect-close.js";
import { inFolder } from "./support/survey-folder.js";
import { type WalkSketch, walkedSurvey } from "./support/walked-survey.js";

const SEEDS = Array.from({ length: 20 }, (_, k) => 1 + k);

/** What opening says, with the tables of placing. */
async function opened(folder: string, options: Partial<OpenSurveyOptions> = {}) {
  const survey = await openSurvey(folder, options);
  return { ...survey, tables: placeReadings(survey).tables };
}

const open = (sketch: WalkSketch, options: Partial<OpenSurveyOptions> = {}) =>
  inFolder(walkedSurvey(sketch), (folder) => opened(folder, options));

describe("positions of a walk", () => {
  it("lose jitter and spikes, and keep to the walk", async () => {
    const sketch: WalkSketch = { jitter_m: 0.8, spikes: [60, 61, 130, 200], seed: 3 };
    const [raw, smooth] = [await open(sketch, { jitter: "keep" }), await open(sketch)];
    const { truth_m } = walkedSurvey(sketch);
    const error = (result: typeof raw) => {
      const { chainage_m } = result.value.campaigns[0]!.passes[0]!;
      return truth_m[0]!.map((truth, i) => Math.abs(chainage_m[i]! - truth));
    };
    // White jitter of 0.8 m at 1 Hz: the smoother, which keeps a pace for a minute, must halve it.
    expect(median(error(smooth))).toBeLessThan(0.5 * median(error(raw)));
    expect(Math.max(...error(raw))).toBeGreaterThan(20);
    expect(Math.max(...error(smooth))).toBeLessThan(2.5);
    const row = smooth.tables.find(({ id }) => id === "positions")!.rows[0]!;
    expect(row.spikes).toBe(4);
    expectClose(row.jitter_m as number, 0.8, { relative: 0.2 });
  });

  it("are told with a standard deviation that holds: about two thirds of the errors lie within", async () => {
    const sketch: WalkSketch = { jitter_m: 0.5, seed: 11 };
    const { value } = await open(sketch, { gpsError_m: 0 });
    const { chainage_m, positionSd_m } = value.campaigns[0]!.passes[0]!;
    const within = walkedSurvey(sketch).truth_m[0]!.filter(
      (truth, i) => Math.abs(chainage_m[i]! - truth) <= positionSd_m![i]!,
    );
    // 68 % for normal errors; neighbours share theirs, so that 500 readings count as about 60.
    expectClose(within.length / chainage_m.length, 0.68, { absolute: 0.2 });
  });

  it("of a receiver that holds its position between two fixes move on evenly", async () => {
    const sketch: WalkSketch = { held: 5, seed: 5, jitter_m: 0.05 };
    const { value } = await open(sketch);
    const { chainage_m } = value.campaigns[0]!.passes[0]!;
    const { truth_m } = walkedSurvey(sketch);
    const errors = truth_m[0]!.slice(10, -10).map((x, i) => Math.abs(chainage_m[i + 10]! - x));
    expect(Math.max(...errors)).toBeLessThan(1);
    const raw = await open(sketch, { jitter: "keep" });
    const held = raw.value.campaigns[0]!.passes[0]!.chainage_m;
    expect(Math.max(...truth_m[0]!.map((x, i) => Math.abs(held[i]! - x)))).toBeGreaterThan(3);
  });

  it("that repeat a whole row count it once", async () => {
    const survey = walkedSurvey({ seed: 2 });
    const lines = survey.files["walk-1.csv"]!;
    lines.splice(50, 0, lines[50]!, lines[50]!);
    const { accounting, cautions } = await inFolder(survey, (folder) => openSurvey(folder));
    expect(accounting!.setAside).toEqual([
      {
        cause: "averaged or repeated: another reading of the same spot stands for it",
        readings: 2,
      },
    ]);
    expect(cautions.map(({ text }) => text)).toContain(
      "2031-10, walk-1.csv: 2 rows repeat the row before in everything and are set aside.",
    );
  });
});

describe("gaps in the positions", () => {
  it("of up to 30 m and 30 s are bridged by time, flagged and less sure", async () => {
    const sketch: WalkSketch = { gaps: [[100, 118]], seed: 7, jitter_m: 0.1 };
    const { value, accounting, cautions, summary } = await open(sketch);
    const pass = value.campaigns[0]!.passes[0]!;
    const { truth_m } = walkedSurvey(sketch);
    for (let i = 100; i < 118; i++) {
      expectClose(pass.chainage_m[i]!, truth_m[0]![i]!, { absolute: 1.5 });
      expect(pass.positionBridged![i]).toBe(1);
      expect(pass.positionSd_m![i]).toBeGreaterThan(pass.positionSd_m![90]!);
    }
    expect(pass.positionBridged!.reduce((sum, flag) => sum + flag, 0)).toBe(18);
    expect(accounting!.setAside).toEqual([]);
    expect(summary).toContain("The positions of 18 readings were bridged by time.");
    expect(
      cautions.some(({ text }) => text.includes("18 readings without a position lie in 1 gap")),
    ).toBe(true);
  });

  it("that are longer, at the ends, or of an impossible pace stay gaps", async () => {
    const sketch: WalkSketch = {
      gaps: [
        [0, 5],
        [100, 140],
        [495, 500],
      ],
      seed: 7,
    };
    const { value, accounting } = await open(sketch);
    const { chainage_m, setAside } = value.campaigns[0]!.passes[0]!;
    expect(accounting!.setAside).toEqual([{ cause: "no position", readings: 50 }]);
    for (const i of [0, 4, 100, 139, 495, 499]) {
      expect(chainage_m[i]).toBeNaN();
      expect(setAside[0]![i]).toBe(1);
    }
    const leap = await open({ gaps: [[100, 103]], leap_m: 25, seed: 7 });
    expect(leap.value.campaigns[0]!.passes[0]!.chainage_m[101]).toBeNaN();
  });

  it("are bridged piece by piece where a peg was passed within", async () => {
    const sketch: WalkSketch = { gaps: [[100, 140]], seed: 7, pegs: [{ row: 120 }] };
    const { value } = await open(sketch);
    const { chainage_m } = value.campaigns[0]!.passes[0]!;
    const { truth_m } = walkedSurvey(sketch);
    for (let i = 100; i < 140; i++) expectClose(chainage_m[i]!, truth_m[0]![i]!, { absolute: 2 });
  });

  it("of the demo are bridged to within 3 standard deviations of where the walker was", async () => {
    const { value } = await openSurvey("data-demo/sedgeholm");
    const off: number[] = [];
    for (const campaign of value.campaigns) {
      const day = fieldDay(CAMPAIGNS.find(({ label }) => label === campaign.label)!);
      for (const pass of campaign.passes) {
        const stations = day.stations[pass.instrument.channels[0]!.orientation as "HCP"];
        for (let i = 0; i < pass.count; i++) {
          if (pass.positionBridged![i] === 0) continue;
          off.push((pass.chainage_m[i]! - stations[i]!.chainage_m) / pass.positionSd_m![i]!);
        }
      }
    }
    expect(off.length).toBe(160);
    expect(Math.max(...off.map(Math.abs))).toBeLessThan(3);
  });
});

describe("the time lag", () => {
  const there = { way: 1 } as const;
  const back = { way: -1 } as const;
  it.each([0.5, 1, 2, 3, -1])(
    "of %s s is found within 0.3 s from two passes in opposite directions",
    async (lag_s) => {
      for (const seed of SEEDS) {
        const sketch: WalkSketch = {
          passes: [there, back],
          lag_s,
          seed,
          jitter_m: 0.3,
          noise: 0.4,
        };
        const { used, cautions, tables } = await open(sketch, { timeLag_s: "estimate" });
        expect(used.timeLag_s).toBe("estimate");
        const found = tables.find(({ id }) => id === "positions")!.rows[0]!.lag_s as number;
        expectClose(found, lag_s, { absolute: 0.3 });
        expect(cautions.some(({ text }) => text.includes("s late, from passes in opposite"))).toBe(
          true,
        );
      }
    },
  );

  it("brings two passes together when taken out", async () => {
    const sketch: WalkSketch = { passes: [there, back], lag_s: 2, seed: 4, noise: 0.1 };
    const { value } = await open(sketch, { timeLag_s: 2 });
    const { lagged_m } = walkedSurvey(sketch);
    for (const [p, pass] of value.campaigns[0]!.passes.entries()) {
      const errors = lagged_m[p]!.slice(5, -5).map((x, i) => Math.abs(pass.chainage_m[i + 5]! - x));
      expect(Math.max(...errors)).toBeLessThan(0.6);
    }
  });

  it("is found from pegs passed in both directions where the readings tell nothing", async () => {
    const pegs = [80, 160, 240, 320].flatMap((row) => [
      { row, pass: 0 },
      { row, pass: 1 },
    ]);
    const sketch: WalkSketch = { passes: [there, back], gpsLate_s: 1.5, seed: 5, pegs, noise: 50 };
    const { tables, cautions } = await open(sketch, { timeLag_s: "estimate" });
    const found = tables.find(({ id }) => id === "positions")!.rows[0]!.lag_s as number;
    // Positions that are late make the readings look early.
    expectClose(found, -1.5, { absolute: 0.3 });
    expect(cautions.some(({ text }) => text.includes("from pegs"))).toBe(true);
  });

  it("is not made up where nothing tells it", async () => {
    const { tables, cautions } = await open(
      { passes: [there], seed: 6 },
      { timeLag_s: "estimate" },
    );
    expect(tables.find(({ id }) => id === "positions")!.rows[0]!.lag_s).toBe(0);
    expect(cautions.some(({ text }) => text.includes("no time lag could be found"))).toBe(true);
    const noise = await open(
      { passes: [there, back], seed: 6, noise: 50 },
      { timeLag_s: "estimate" },
    );
    expect(noise.tables.find(({ id }) => id === "positions")!.rows[0]!.lag_s).toBe(0);
  });

  it("of nought is found as nought on the demo, from coils turned another way", async () => {
    const { tables } = await opened("data-demo/sedgeholm", { timeLag_s: "estimate" });
    for (const row of tables.find(({ id }) => id === "positions")!.rows) {
      expectClose(row.lag_s as number, 0, { absolute: 0.3 });
    }
  });

  it("and an antenna ahead of the coils shift by way and pace", async () => {
    const sketch: WalkSketch = { passes: [there, back], seed: 8 };
    // The sketch's antenna is over the coils: told otherwise, its passes would be brought together again.
    const apart = { passShift_m: "ignore" } as const;
    const plain = await open(sketch, apart);
    const moved = await open(sketch, { antennaAhead_m: 1.5, antennaLeft_m: 0.4, ...apart });
    for (const p of [0, 1]) {
      const [a, b] = [plain, moved].map(({ value }) => value.campaigns[0]!.passes[p]!);
      const way = p === 0 ? 1 : -1;
      expectClose(b!.chainage_m[200]! - a!.chainage_m[200]!, -1.5 * way, { absolute: 1e-9 });
      expectClose(b!.offset_m[200]! - a!.offset_m[200]!, -0.4 * way, { absolute: 1e-9 });
    }
  });
});

describe("passes that lie apart", () => {
  const sketch: WalkSketch = { passes: [{ way: 1 }, { way: -1 }], lag_s: 1.5, seed: 13 };

  it("are brought together on opening, said and tabled; the option turns it off", async () => {
    const { tables, cautions, value, basis } = await open(sketch);
    expect(tables.map(({ id }) => id)).toEqual(["positions", "passes-together"]);
    const [row] = tables.find(({ id }) => id === "passes-together")!.rows;
    expect(row).toMatchObject({ one: "walk-1.csv", other: "walk-2.csv" });
    // Each walk's readings are late by 1.5 s at 1.2 m/s: the second lies 3.6 m behind the first.
    expectClose(row!.shift_m as number, -3.6, { absolute: 0.3 });
    expect(row!.fate).toBe("brought to their middle");
    expect(cautions.some(({ text }) => text.includes("brought to their middle"))).toBe(true);
    expect(basis.some(({ statement }) => statement.includes("brought to their middle"))).toBe(true);
    const { lagged_m } = walkedSurvey(sketch);
    for (const [p, { chainage_m }] of value.campaigns[0]!.passes.entries()) {
      const off = lagged_m[p]!.slice(5, -5).map((x, i) => Math.abs(chainage_m[i + 5]! - x));
      expect(median(off)).toBeLessThan(0.4);
    }
    const left = await open(sketch, { passShift_m: "ignore" });
    expect(left.tables.map(({ id }) => id)).toEqual(["positions"]);
  });

  it("may be given by file, of which the survey must have one", async () => {
    const given = await open(sketch, { passShift_m: { "walk-2.csv": -3.6 } });
    expect(given.used.passShift_m).toEqual({ "walk-2.csv": -3.6 });
    expect(given.cautions.some(({ text }) => text.includes("as given, by up to 3.6 m"))).toBe(true);
    await expect(open(sketch, { passShift_m: { "walk-3.csv": 1 } })).rejects.toThrow(
      'openSurvey: options.passShift_m must be metres by file, of walk-1.csv, walk-2.csv, got "walk-3.csv"',
    );
    await expect(open(sketch, { passShift_m: { "walk-2.csv": 40 } })).rejects.toThrow(
      "options.passShift_m must be one of correct, check, ignore, or metres from -20 to 20 by file",
    );
  });
});

describe("pegs", () => {
  const rows = [20, 120, 220, 320, 420];

  it("correct a chainage that is stretched by 1 %", async () => {
    // The pegs were set out by a tape that is 1 % short: they say 1.01 m for each metre.
    const pegs = rows.map((row) => ({ row, stretch: 1.01 }));
    for (const seed of SEEDS) {
      const sketch: WalkSketch = { seed, pegs, jitter_m: 0.1 };
      const { truth_m } = walkedSurvey(sketch);
      const worst = (result: Awaited<ReturnType<typeof open>>) => {
        const { chainage_m } = result.value.campaigns[0]!.passes[0]!;
        const off = truth_m[0]!.map((x, i) => Math.abs(chainage_m[i]! - 1.01 * x));
        return Math.max(...off.slice(20, 421));
      };
      const [checked, corrected] = [await open(sketch), await open(sketch, { pegs: "correct" })];
      expect(worst(checked)).toBeGreaterThan(4);
      expect(worst(corrected)).toBeLessThan(1);
      expect(
        checked.cautions.some(({ text }) => text.includes("differ from 5 pegs by up to 5.")),
      ).toBe(true);
      expect(checked.tables.find(({ id }) => id === "pegs")!.rows).toHaveLength(5);
    }
  });

  it("that agree are not spoken of, and a slip of the pen is not believed", async () => {
    const agreeing = await open({ seed: 9, pegs: rows.map((row) => ({ row })) });
    expect(agreeing.cautions.some(({ text }) => text.includes("peg"))).toBe(false);
    const slip = { row: 120, stretch: 3 };
    const { cautions, value } = await open({ seed: 9, pegs: [slip] }, { pegs: "correct" });
    expect(cautions.some(({ text }) => text.includes("it is not believed"))).toBe(true);
    const plain = await open({ seed: 9 });
    expect(value.campaigns[0]!.passes[0]!.chainage_m).toEqual(
      plain.value.campaigns[0]!.passes[0]!.chainage_m,
    );
  });
});

describe("standing still and stepping back", () => {
  it("averages what was read while standing, and accounts for it", async () => {
    const sketch: WalkSketch = {
      stand: { row: 200, readings: 30 },
      seed: 10,
      jitter_m: 0.05,
      noise: 1,
    };
    const { value, accounting, cautions } = await open(sketch);
    expect(closes(accounting!)).toBe(true);
    const aside = accounting!.setAside.find(({ cause }) => cause.startsWith("averaged"))!;
    // 30 s of standing at one reading a second become two readings; the edges may be taken as walking.
    expect(aside.readings).toBeGreaterThanOrEqual(22);
    expect(aside.readings).toBeLessThanOrEqual(30);
    expect(accounting!.corrected).toBe(2);
    expect(cautions.some(({ text }) => text.includes("standing still became 2 by averaging"))).toBe(
      true,
    );
    const kept = await open(sketch, { standstill: "keep" });
    expect(kept.accounting!.setAside).toEqual([]);
    const pass = value.campaigns[0]!.passes[0]!;
    const used = [...pass.corrected.keys()].filter((i) => pass.corrected[i] === 1);
    // The mean of 10 to 20 readings of noise 1 about a truth of 60 and a few (see the sketch's ground).
    const raw = kept.value.campaigns[0]!.passes[0]!.values[0]!;
    const mean = raw.slice(205, 225).reduce((sum, v) => sum + v, 0) / 20;
    for (const i of used) expectClose(pass.values[0]![i]!, mean, { absolute: 1.5 });
  });

  it("recognises steps back and leaves their readings where they were made", async () => {
    const sketch: WalkSketch = { back: { row: 200, readings: 8 }, seed: 12, jitter_m: 0.1 };
    const { value, cautions, accounting } = await open(sketch);
    expect(accounting!.kept).toBe(500);
    expect(cautions.map(({ text }) => text).join()).toMatch(
      /1 stretch walked backwards, \d+ m in all/,
    );
    const { truth_m } = walkedSurvey(sketch);
    const { chainage_m } = value.campaigns[0]!.passes[0]!;
    for (let i = 195; i < 220; i++) expectClose(chainage_m[i]!, truth_m[0]![i]!, { absolute: 1 });
  });
});

describe("the options of placing", () => {
  it("are checked all at once", async () => {
    const options = {
      bridgeUpTo_m: -1,
      timeLag_s: 40,
      pegs: "use",
      lag: 2,
    } as unknown as Partial<OpenSurveyOptions>;
    await expect(openSurvey("somewhere", options)).rejects.toThrow(
      /options\.bridgeUpTo_m must be a number at least 0 m, got -1\n[\s\S]*options\.timeLag_s must be a number at least -10 and at most 10 s, or "estimate", got 40\n[\s\S]*options\.pegs must be one of "check", "correct", "ignore", got "use"\n[\s\S]*options\.lag must be one of /,
    );
  });
});

// The generator of the sketches is seeded; this keeps its own promise.
describe("a sketched walk", () => {
  it("is the same twice", () => {
    expect(walkedSurvey({ seed: 1 })).toEqual(walkedSurvey({ seed: 1 }));
    expect(seededRandom(1).normal()).toBe(seededRandom(1).normal());
  });
});
