import { describe, expect, it } from "vitest";
import { openSurvey } from "../../../lib/place/open-survey.js";
import { placeReadings } from "../../../lib/place/place-readings.js";
import { fateOf } from "../../../lib/survey/account/reading-status.js";
import { inFolder } from "../../survey/support/survey-folder.js";
import { walkedSurvey } from "../../survey/support/walked-survey.js";

type Cells = readonly [hcp: string, vcp: string];

/** A walked survey of two channels with some of its cells written otherwise, and what became of it. */
async function opened(cellsOf: (cells: Cells, row: number) => Cells, unread?: "keep") {
  const survey = walkedSurvey({ seed: 5, readings: 300 });
  survey.files["walk-1.csv"] = survey.files["walk-1.csv"]!.map((line, i) => {
    if (i === 0) return line;
    const cells = line.split(",");
    return [...cells.slice(0, 3), ...cellsOf([cells[3]!, cells[4]!], i - 1)].join(",");
  });
  const result = await inFolder(survey, (folder) => openSurvey(folder));
  const { value } = placeReadings(result.value, unread ? { unread } : {});
  const campaign = value.campaigns[0]!;
  const fates = Array.from({ length: 300 }, (_, row) => fateOf(campaign, 0, row));
  const aside = fates.map(({ channels }) => channels.join(" "));
  return { fates, aside, told: result.cautions.map(({ text }) => text).join("\n") };
}

const rowsOf = (aside: readonly string[], channels: string) =>
  [...aside.entries()].filter(([, one]) => one === channels).map(([row]) => row);
const span = (from: number, to: number) => Array.from({ length: to - from }, (_, i) => from + i);

describe("finishPass", () => {
  it("sets aside a stretch on which a channel stood still, and no other channel there", async () => {
    const held = ([hcp, vcp]: Cells, row: number): Cells =>
      row >= 120 && row < 190 ? ["61.234", vcp] : [hcp, vcp];
    const { aside, told, fates } = await opened(held);
    expect(rowsOf(aside, "c_hcp")).toEqual(span(120, 190));
    expect(rowsOf(aside, "")).toEqual([...span(0, 120), ...span(190, 300)]);
    expect(told).toContain("channel c_hcp reads 61.234 in 70 rows from row 122 to 191");
    expect(fates.every(({ fate }) => fate !== "set aside")).toBe(true);
    expect(rowsOf((await opened(held, "keep")).aside, "c_hcp")).toEqual([]);
  });

  it("sets aside a channel of one value beside one that moves, and keeps two of one value", async () => {
    const { aside, told } = await opened(([, vcp]) => ["61.2", vcp]);
    expect(rowsOf(aside, "c_hcp").length).toBe(300);
    expect(told).toContain("channel c_hcp has one value, 61.2, in all rows");
    // Zero in all of them is no even ground: a logger that recorded nothing.
    const nothing = await opened(() => ["0", "0.00"]);
    expect(nothing.fates.every(({ kind }) => kind === "not read")).toBe(true);
    const exact = await opened(() => ["61.2", "58.1"]);
    expect(rowsOf(exact.aside, "").length).toBe(300);
    expect(exact.told).toContain(
      "channel c_vcp has one value, 58.1, in all rows; was it recorded?",
    );
  });

  it("sets aside what stands for none though no list has it, and readings at the range's end", async () => {
    const gone = new Set([3, 40, 41, 42, 43, 200, 201, 299]);
    for (const mark of ["0", "-999.9", "-1", "6553.5"]) {
      const { aside, told } = await opened(([hcp, vcp], row) => [gone.has(row) ? mark : hcp, vcp]);
      expect(rowsOf(aside, "c_hcp")).toEqual([...gone]);
      expect(told).toContain(`reads ${Number(mark)} in 8 of 300 rows, and nothing near it`);
    }
    // Metal takes readings below zero: 0 is no end of them then, and still no reading.
    const beside = await opened(([hcp, vcp], row) => {
      if (row >= 150 && row < 154) return [String(-40 - row), vcp];
      return [gone.has(row) ? "0" : hcp, vcp];
    });
    expect(rowsOf(beside.aside, "c_hcp")).toEqual([...gone]);
    const often = await opened(([hcp, vcp], row) => [row % 9 === 4 ? "0" : hcp, vcp]);
    expect(often.told.match(/c_hcp reads 0/g)).toHaveLength(1);
    const clipped = await opened(([hcp, vcp]) => [Math.min(Number(hcp), 62).toFixed(2), vcp]);
    const { length } = rowsOf(clipped.aside, "c_hcp");
    expect(length).toBeGreaterThan(30);
    expect(clipped.told).toContain(`reads 62, its largest value, in ${length} of 300 rows`);
  });

  it("tells of a row that is set aside what took its readings, not what had none", async () => {
    const empty = await opened(([hcp, vcp], row) =>
      row >= 100 && row < 140 ? ["", ""] : [hcp, vcp],
    );
    expect(empty.fates[120]!.kind).toBe("no value");
    const both = await opened(([hcp, vcp], row) =>
      row >= 100 && row < 140 ? ["61.234", ""] : [hcp, vcp],
    );
    expect(both.fates[120]).toMatchObject({ fate: "set aside", kind: "not read" });
  });

  it("counts a whole row that is repeated once", async () => {
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
