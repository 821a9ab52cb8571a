import { describe, expect, it } from "vitest";
import { conductivityFactor } from "../../data-demo/generator/temperature.js";
import { expectClose } from "../support/expect-close.js";
import { mean, type Row, rowsOf, standardDeviation, truth } from "./demo-folder.js";

const known = truth();
const CAMPAIGNS = ["2031-10", "2032-03"];

/** The readings of one channel at each visit to the base spot, with mean times in hours. */
function visits(campaign: string, channel: string) {
  const rows = rowsOf(`base-checks-${campaign}.csv`).filter((row) => row[channel] !== "");
  const start = Date.parse(rows[0]!.time!);
  const hours = rows.map((row) => (Date.parse(row.time!) - start) / 3_600_000);
  return Array.from({ length: rows.length / 20 }, (_, k) => ({
    hour: mean(hours.slice(20 * k, 20 * k + 20)),
    values: rows.slice(20 * k, 20 * k + 20).map((row) => Number(row[channel])),
  }));
}

describe("the base checks", () => {
  it("are six visits of 20 readings of each orientation", () => {
    for (const campaign of CAMPAIGNS) {
      for (const channel of ["q_1k5_hcp", "i_60k_vcp"]) {
        expect(visits(campaign, channel)).toHaveLength(6);
      }
    }
  });

  it("scatter by the noise of the truth, within the error of a deviation of 114 readings", () => {
    for (const { campaign, channel, readingSd } of known.drift) {
      const squares = visits(campaign, channel).map(
        (visit) => standardDeviation(visit.values) ** 2,
      );
      // 114 degrees of freedom: relative error 6.6 %; 4.5 of them, for 40 channels.
      expectClose(Math.sqrt(mean(squares)), readingSd, { relative: 0.3 });
    }
  });

  it("drift by the truth's rate and step, within the error of the visits' means", () => {
    for (const { campaign, channel, perHour, step, checkSd } of known.drift) {
      const six = visits(campaign, channel);
      const level = six.map((visit) => mean(visit.values));
      const span = six[5]!.hour - six[0]!.hour;
      const moved = level[5]! - level[0]! - step;
      // Two means: 1.41 checkSd, times 4 for 40 channels; slopes of parts differ by some percent.
      const allowed = (4 * 1.42 * checkSd) / span + 0.03 * Math.abs(perHour);
      expectClose(moved / span, perHour, { absolute: allowed });
      // Between the visits before and after the battery change lie about 8 minutes of drift.
      const jump = level[4]! - level[3]! - perHour * (six[4]!.hour - six[3]!.hour);
      expectClose(jump, step, { absolute: 4 * 1.42 * checkSd + 0.1 * Math.abs(perHour) });
    }
  });

  it("drift well above their noise on most channels and not at all on two or three", () => {
    for (const campaign of CAMPAIGNS) {
      const rates = known.drift.filter((one) => one.campaign === campaign);
      const still = rates.filter((one) => Math.abs(one.perHour) * one.hours < one.checkSd);
      expect(still.length).toBeGreaterThanOrEqual(2);
      expect(still.length).toBeLessThanOrEqual(3);
      const moving = rates.filter((one) => !still.includes(one));
      for (const { channel, perHour } of moving) {
        const [low, high] = channel.startsWith("q") ? [20, 150] : [60, 300];
        expect(Math.abs(perHour)).toBeGreaterThanOrEqual(low!);
        expect(Math.abs(perHour)).toBeLessThanOrEqual(high!);
      }
      expect(new Set(moving.map((one) => Math.sign(one.perHour))).size).toBe(2);
    }
  });
});

describe("the walks", () => {
  const walk = rowsOf("readings-2031-10-hcp.csv");

  it("go forward with coils HCP and back with coils VCP", () => {
    for (const campaign of CAMPAIGNS) {
      const forward = longitudes(rowsOf(`readings-${campaign}-hcp.csv`));
      const back = longitudes(rowsOf(`readings-${campaign}-vcp.csv`));
      expect(forward.at(-1)! - forward[0]!).toBeGreaterThan(0.03);
      expect(back.at(-1)! - back[0]!).toBeLessThan(-0.03);
    }
  });

  it("lose the position in two gaps of about 25 m each", () => {
    for (const campaign of CAMPAIGNS) {
      for (const orientation of ["hcp", "vcp"]) {
        const rows = rowsOf(`readings-${campaign}-${orientation}.csv`);
        const runs = blankRuns(rows);
        expect(runs).toHaveLength(2);
        for (const run of runs) expectClose(run * 1.2, 25, { absolute: 4 });
      }
    }
  });

  it("scatter in position by about 0.3 m, alike from one second to the next", () => {
    // In latitude, against a running mean over 41 readings: jitter of antenna and of the walker.
    const rows = walk.slice(100, 500).map((row) => Number(row.latitude) * 111_320);
    const off = rows.slice(20, -20).map((at, k) => at - mean(rows.slice(k, k + 41)));
    expect(standardDeviation(off)).toBeGreaterThan(0.12);
    expect(standardDeviation(off)).toBeLessThan(0.4);
    const steps = off.slice(1).map((at, k) => at - off[k]!);
    expect(standardDeviation(steps)).toBeLessThan(standardDeviation(off));
  });

  it("have in-phase swings over metal that no ground of this bank can give", () => {
    // 11 ohm-m throughout gives no negative in-phase part; drift and noise stay within 700 ppm.
    const low = rowsOf("readings-2032-03-hcp.csv").map((row) => Number(row.i_60k_hcp));
    expect(Math.min(...low)).toBeLessThan(-1000);
  });

  it("have a first difference that is the noise where the ground is even", () => {
    const quiet = walk.slice(1850, 1990).map((row) => Number(row.i_1k5_hcp));
    const steps = quiet.slice(1).map((value, k) => value - quiet[k]!);
    // 139 differences of independent noise of 25 ppm: sqrt(2) × 25, known to 10 %.
    expectClose(standardDeviation(steps) / Math.SQRT2, 25, { relative: 0.3 });
  });
});

describe("the soil temperature", () => {
  it("turns conductivity as the published factors do", () => {
    // Sheets & Hendrickx 1995 as corrected in Corwin & Lesch 2005; computed to five figures.
    for (const [temperature, factor] of [
      [0, 1.8504],
      [5, 1.61167],
      [10, 1.41354],
      [20, 1.11268],
    ] as const) {
      expectClose(conductivityFactor(temperature), factor, { absolute: 1e-5 });
    }
  });

  it("is measured on both days of walking, at five depths, warmer in autumn", () => {
    const rows = rowsOf("soil-temperature.csv");
    const on = (day: string) => rows.filter((row) => row.time!.startsWith(day));
    expect(on("2031-10-14")).toHaveLength(5);
    expect(on("2032-03-18")).toHaveLength(5);
    const surface = (day: string) => Number(on(day)[0]!.temperature_degC);
    expect(surface("2031-10-14") - surface("2032-03-18")).toBeGreaterThan(4);
  });
});

describe("the waters", () => {
  it("stand high in spring, low in autumn, and the piezometer at the lens follows the river", () => {
    const rows = rowsOf("water-levels.csv");
    const level = (point: string, day: string) =>
      Number(rows.find((row) => row.point === point && row.time!.startsWith(day))!.level_m);
    const rise = (point: string) => level(point, "2032-03-18") - level(point, "2031-10-14");
    expect(rise("river")).toBeGreaterThan(2.5);
    expect(rise("P1")).toBeGreaterThan(1.2);
    expect(rise("P2")).toBeLessThan(0.6);
  });
});

describe("the resistivity lines", () => {
  const readings = rowsOf("resistivity-readings.csv");
  const electrodes = rowsOf("resistivity-electrodes.csv");

  it("have 200 to 600 readings a line with currents of 20 to 200 mA", () => {
    for (const line of ["R1", "R2", "R3", "R4"]) {
      const rows = readings.filter((row) => row.line === line);
      expect(rows.length).toBeGreaterThanOrEqual(200);
      expect(rows.length).toBeLessThanOrEqual(600);
    }
    const currents = readings.map((row) => Number(row.current_mA));
    expect(Math.min(...currents)).toBeGreaterThanOrEqual(20);
    expect(Math.max(...currents)).toBeLessThanOrEqual(200);
  });

  it("agree with their repeats and reciprocals within some percent where contacts are good", () => {
    const pairs = readings.flatMap((row) => {
      const twin = row.repeat === "1" ? find(row, "abmn") : find(row, "mnab");
      return twin && good(row) && good(twin) ? [ohm(row) / ohm(twin) - 1] : [];
    });
    expect(pairs.length).toBeGreaterThan(50);
    // 1 % in each of two readings, plus the floor of the small voltages.
    expect(standardDeviation(pairs)).toBeLessThan(0.04);
  });

  it("read high over the lens and low beside the boundary to the clay core", () => {
    expect(apparentAt("R1", 1845) / apparentAt("R1", 1806)).toBeGreaterThan(1.3);
    expect(apparentAt("R2", 1160) / apparentAt("R2", 1220)).toBeGreaterThan(2);
  });

  it("go over the slopes across the bank", () => {
    const levels = electrodes
      .filter((row) => row.line === "R3")
      .map((row) => Number(row.elevation_m));
    expectClose(Math.max(...levels), 6.2, { absolute: 0.06 });
    expectClose(Math.min(...levels), 2.4, { absolute: 0.06 });
    expect(levels.indexOf(Math.max(...levels))).toBeGreaterThan(10);
  });

  it("cross the new drain with one, which reads high over it", () => {
    const { drain, sections } = known;
    const across = sections.find(({ line }) => line === "R4")!;
    const inDrain = across.resistivity_ohm_m.flat().filter((value) => value > 200);
    // As many cells as the trench holds, of an eighth of a metre across.
    const cells = (drain.width_m / 0.125) * across.depth_m.filter(isIn(drain)).length;
    expectClose(inDrain.length, cells, { relative: 0.1 });
    const wide = (middle_m: number) => {
      const first = Math.round((middle_m + 9.5) / 0.5 - 1.5) + 1;
      const row = readings.find(
        (one) => one.line === "R4" && Number(one.a) === first && Number(one.b) === first + 3,
      )!;
      return 2 * Math.PI * 0.5 * ohm(row);
    };
    expect(wide(drain.offset_m) / wide(1.5)).toBeGreaterThan(1.3);
  });

  const find = (row: Row, order: string) =>
    readings.find(
      (other) =>
        other !== row &&
        other.line === row.line &&
        other.repeat === "" &&
        [..."abmn"].every((name, k) => row[name] === other[order[k]!]),
    );
  const good = (row: Row) => Number(row.deviation_pct) < 1;
  const ohm = (row: Row) => Number(row.voltage_mV) / Number(row.current_mA);

  /** Wenner spread of two spacings nearest to a chainage, ohm-m over flat ground. */
  function apparentAt(line: string, chainage_m: number): number {
    const start = line === "R1" ? 1801 : 1143;
    const spacing = line === "R1" ? 1.25 : 2;
    const first = Math.round((chainage_m - start) / spacing - 3) + 1;
    const spread = readings.filter((row) => {
      return row.line === line && Number(row.a) === first && Number(row.b) === first + 6;
    });
    return 2 * Math.PI * 2 * spacing * ohm(spread[0]!);
  }
});

const isIn =
  ({ top_m, base_m }: { readonly top_m: number; readonly base_m: number }) =>
  (depth_m: number) =>
    depth_m >= top_m && depth_m < base_m;

function longitudes(rows: readonly Row[]): number[] {
  return rows.filter((row) => row.longitude !== "").map((row) => Number(row.longitude));
}

/** Lengths, in readings, of the runs without a position. */
function blankRuns(rows: readonly Row[]): number[] {
  const marks = rows.map((row) => (row.longitude === "" ? "x" : "o")).join("");
  return (marks.match(/x+/g) ?? []).map((run) => run.length);
}
