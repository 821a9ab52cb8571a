import { describe, expect, it } from "vitest";
import { lineProfiles } from "../../../lib/interference/anomaly/line-profiles.js";
import { maskInterference } from "../../../lib/interference/mask-interference.js";
import type { Channel } from "../../../lib/survey/survey.js";
import { campaignOf, channelOf } from "../../support/campaign.js";

const channels = ["a", "b"].map((field) => channelOf({ field }));
const chainage_m = [4, 2, 0];
const profileOf = (setAside: readonly (readonly number[])[]) => {
  const values = [
    [1, 2, 3],
    [4, 5, Number.NaN],
  ];
  const causes = [{ kind: "not read" as const, text: "stood still" }];
  return lineProfiles(
    campaignOf({ passes: [{ channels, values, chainage_m, setAside }], causes }),
  )[0]!;
};
const fieldsOf = (setAside: readonly (readonly number[])[]) =>
  profileOf(setAside).channels.map(({ field }) => field);

describe("lineProfiles", () => {
  it("sorts by chainage and leaves out what is missing or set aside", () => {
    const { values } = profileOf([
      [1, 0, 0],
      [0, 0, 0],
    ]);
    expect(values.map((column) => [...column])).toEqual([
      [3, 2, Number.NaN],
      [Number.NaN, 5, 4],
    ]);
  });

  it("leaves out a channel without a reading in use, and keeps all where none has one", () => {
    expect(
      fieldsOf([
        [0, 0, 0],
        [1, 1, 0],
      ]),
    ).toEqual(["a"]);
    expect(
      fieldsOf([
        [1, 1, 1],
        [1, 1, 0],
      ]),
    ).toEqual(["a", "b"]);
  });

  it("lets a channel that was never read make no difference to the noise of the others", () => {
    const long_m = Array.from({ length: 60 }, (_, i) => i);
    const [a, b] = [channels[0]!, channels[1]!];
    const values = [7, 11].map((k) => long_m.map((x) => 500 + 20 * Math.sin(k * x)));
    const none = long_m.map(() => Number.NaN);
    const noiseOf = (walked: readonly Channel[], columns: readonly number[][]) =>
      maskInterference(
        campaignOf({ passes: [{ chainage_m: long_m, channels: walked, values: columns }] }),
      ).value.noise.filter(({ channel }) => channel !== "silent");
    const between = noiseOf([a, channelOf({ field: "silent" }), b], [values[0]!, none, values[1]!]);
    expect(between).toEqual(noiseOf([a, b], values));
    expect(between.every(({ walked }) => walked > 0)).toBe(true);
  });
});
