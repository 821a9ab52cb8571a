import { describe, expect, it } from "vitest";
import { gatherStations } from "../../../lib/depth/data/gather-stations.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { campaignOf, channelOf } from "../../support/campaign.js";
import { expectClose } from "../../support/expect-close.js";

describe("gatherStations", () => {
  it("averages the readings within half a spacing, channel by channel", () => {
    const campaign = campaignOf({
      passes: [
        {
          channels: [channelOf()],
          values: [[10, 20, 30, 40]],
          chainage_m: [3.1, 4.9, 5.2, 6.8],
        },
      ],
    });
    const stations = gatherStations(campaign, 2);
    expect([...stations.chainage_m]).toEqual([4, 6]);
    expect([...stations.channels[0]!.mean]).toEqual([15, 35]);
    expect([...stations.channels[0]!.count]).toEqual([2, 2]);
  });

  it("leaves out what is set aside and what has no position, and counts that it was there", () => {
    const campaign = campaignOf({
      passes: [
        {
          channels: [channelOf()],
          values: [[10, 20, 30]],
          chainage_m: [0, 2, Number.NaN],
          setAside: [[0, 1, 0]],
        },
      ],
      causes: [{ kind: "detected", text: "metal" }],
    });
    const stations = gatherStations(campaign, 2);
    expect([...stations.chainage_m]).toEqual([0, 2]);
    expect([...stations.channels[0]!.mean]).toEqual([10, Number.NaN]);
    expect([...stations.present]).toEqual([1, 1]);
  });

  it("leaves out a channel without a reading in use, and keeps all where none has one", () => {
    const fields = (setAside: number[][]) =>
      gatherStations(
        campaignOf({
          passes: [
            {
              channels: [channelOf({ field: "a" }), channelOf({ field: "b" })],
              values: [
                [1, 2],
                [Number.NaN, 4],
              ],
              chainage_m: [0, 2],
              setAside,
            },
          ],
          causes: [{ kind: "not read", text: "stood still" }],
        }),
        2,
      ).channels.map(({ channel }) => channel.field);
    expect(fields([])).toEqual(["a", "b"]);
    const one = [
      [0, 0],
      [0, 1],
    ];
    expect(fields(one)).toEqual(["a"]);
    const none = [
      [1, 1],
      [1, 1],
    ];
    expect(fields(none)).toEqual(["a", "b"]);
  });

  it("gives two campaigns the same stations wherever they start", () => {
    const at = (from: number) =>
      gatherStations(
        campaignOf({
          passes: [{ channels: [channelOf()], values: [[1, 1]], chainage_m: [from, from + 20] }],
        }),
        2,
      ).chainage_m;
    expect(at(3.7).every((x) => x % 2 === 0)).toBe(true);
    expect(at(0.9).every((x) => x % 2 === 0)).toBe(true);
  });

  it("measures the noise of single readings past slow change and outliers", () => {
    const random = seededRandom(4);
    const chainage_m = Array.from({ length: 800 }, (_, i) => i);
    const values = chainage_m.map(
      (x) => 500 + 0.5 * x + 12 * random.normal() + (x % 97 === 0 ? 3000 : 0),
    );
    const campaign = campaignOf({
      passes: [{ channels: [channelOf()], values: [values], chainage_m }],
    });
    // 800 second differences, robust scale: standard error about 5 %; outliers raise it a little.
    expectClose(gatherStations(campaign, 2).channels[0]!.noise, 12, { relative: 0.15 });
  });
});
