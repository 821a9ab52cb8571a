import Papa from "papaparse";
import { describe, expect, it } from "vitest";
import { accountingCsv } from "../../lib/handover/accounting-csv.js";
import { campaignOf, channelOf } from "../support/campaign.js";

const two = [channelOf(), channelOf({ kind: "inphase" })];
const campaign = campaignOf({
  passes: [
    {
      channels: two,
      values: [
        [1, 2, 3, 4],
        [1, 2, 3, 4],
      ],
      chainage_m: [0, 1.234, Number.NaN, 3],
      setAside: [
        [0, 1, 2, 0],
        [0, 1, 2, 1],
      ],
    },
  ],
  causes: [
    { kind: "both", text: 'gate, noted "by the road", and seen' },
    { kind: "no position", text: "no position in the file" },
  ],
});

describe("accountingCsv", () => {
  const rows = Papa.parse<Record<string, string>>(accountingCsv([campaign]), {
    header: true,
    skipEmptyLines: true,
  }).data;

  it("has one row a reading, with the line of the file it came from", () => {
    expect(rows.map((row) => row.row)).toEqual(["2", "3", "4", "5"]);
    expect(rows.every((row) => row.file === "walk.csv" && row.campaign === "2031-10")).toBe(true);
  });

  it("says what became of it and why, commas and quotes kept", () => {
    expect(rows.map((row) => row.fate)).toEqual(["kept", "set aside", "set aside", "kept"]);
    expect(rows[1]!.cause).toBe('gate, noted "by the road", and seen');
    expect(rows[2]).toMatchObject({ chainage_m: "", cause: "no position in the file" });
  });

  it("says of every position whether it was measured, bridged or missing", () => {
    expect(rows.map((row) => row.position)).toEqual(["measured", "measured", "none", "measured"]);
    const pass = { ...campaign.passes[0]!, positionBridged: Uint8Array.of(0, 1, 0, 0) };
    const bridged = Papa.parse<Record<string, string>>(
      accountingCsv([{ ...campaign, passes: [pass] }]),
      { header: true, skipEmptyLines: true },
    ).data;
    expect(bridged.map((row) => row.position)).toEqual(["measured", "bridged", "none", "measured"]);
  });

  it("lists the channels set aside of a reading that stays in use", () => {
    expect(rows[3]).toMatchObject({ fate: "kept", channels_set_aside: two[1]!.field });
    expect(rows[0]!.channels_set_aside).toBe("");
  });

  it("calls a reading corrected where a correction changed it", () => {
    const pass = campaign.passes[0]!;
    const passes = [{ ...pass, corrected: Uint8Array.of(1, 1, 0, 0) }];
    const fates = Papa.parse<Record<string, string>>(accountingCsv([{ ...campaign, passes }]), {
      header: true,
      skipEmptyLines: true,
    }).data.map((row) => row.fate);
    expect(fates).toEqual(["corrected", "set aside", "set aside", "kept"]);
  });

  it("keeps a spreadsheet from taking a text for a formula, and numbers as they are", () => {
    const texts = ["=1+1", "+1", "@sum", "\t=1", "-cmd|x", "＝1"];
    const pass = campaign.passes[0]!;
    for (const text of texts) {
      const causes = [{ kind: "both" as const, text }, campaign.causes[1]!];
      const passes = [{ ...pass, chainage_m: Float64Array.of(-1.5, 1, Number.NaN, 3) }];
      const cells = Papa.parse<Record<string, string>>(
        accountingCsv([{ ...campaign, causes, passes }]),
        { header: true, skipEmptyLines: true },
      ).data;
      expect(cells[1]!.cause).toBe(`'${text}`);
      expect(cells[0]!.chainage_m).toBe("-1.50");
    }
  });
});
