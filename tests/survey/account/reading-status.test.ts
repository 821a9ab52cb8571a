import { describe, expect, it } from "vitest";
import { accountFor, fateOf, usable } from "../../../lib/survey/account/reading-status.js";
import type { Campaign } from "../../../lib/survey/survey.js";
import { campaignOf, channelOf } from "../../support/campaign.js";

const channels = [channelOf({ orientation: "HCP" }), channelOf({ orientation: "VCP" })];

function sketched(): Campaign {
  const campaign = campaignOf({
    passes: [
      {
        channels,
        chainage_m: [0, 1, 2, 3],
        values: [
          [10, 11, 12, 13],
          [20, 21, 22, 23],
        ],
        setAside: [
          [0, 0, 2, 0],
          [0, 1, 1, 0],
        ],
      },
    ],
    causes: [
      { kind: "no value", text: "no value" },
      { kind: "documented", text: "gate", object: "gate" },
    ],
  });
  campaign.passes[0]!.corrected[3] = 1;
  return campaign;
}

describe("fateOf", () => {
  it("sets a reading aside where no channel is in use, for the cause of the first", () => {
    const fates = [0, 1, 2, 3].map((row) => fateOf(sketched(), 0, row));
    expect(fates).toEqual([
      { fate: "kept", cause: null, kind: null, channels: [] },
      { fate: "kept", cause: null, kind: null, channels: ["q_4800_vcp"] },
      {
        fate: "set aside",
        cause: "gate",
        kind: "documented",
        channels: ["q_4800_hcp", "q_4800_vcp"],
      },
      { fate: "corrected", cause: null, kind: null, channels: [] },
    ]);
  });
});

describe("accountFor", () => {
  it("counts every reading of every campaign once", () => {
    expect(accountFor([sketched(), sketched()])).toEqual({
      readings: 8,
      kept: 4,
      corrected: 2,
      setAside: [{ cause: "metal or structure that was noted", readings: 2 }],
    });
  });
});

describe("usable", () => {
  it("is a copy with NaN where the channel is set aside", () => {
    const pass = sketched().passes[0]!;
    const values = usable(pass, 1);
    expect([...values]).toEqual([20, Number.NaN, Number.NaN, 23]);
    values[0] = 0;
    expect(pass.values[1]![0]).toBe(20);
  });
});
