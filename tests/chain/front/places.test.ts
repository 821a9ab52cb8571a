import { expect, it } from "vitest";
import {
  campaignsOf,
  isUnexplained,
  ofMainLine,
  placesOf,
} from "../../../lib/chain/front/places.js";

const seen = (campaign: string, from_m: number, to_m: number, object = "", line?: string) => ({
  ...{ campaign, from_m, to_m, object, channels: [], readings: 3 },
  ...(line !== undefined && { line }),
  cause: object === "" ? ("detected" as const) : ("both" as const),
});

it("counts an object once, however many campaigns and pieces it was seen in", () => {
  const places = placesOf([
    seen("2032-03", 259, 267),
    seen("2031-10", 100, 110, "gate"),
    seen("2031-10", 258, 262),
    seen("2031-10", 264, 270),
  ]);
  expect(places.map(({ from_m, to_m }) => [from_m, to_m])).toEqual([
    [100, 110],
    [258, 270],
  ]);
  expect(places.map(isUnexplained)).toEqual([false, true]);
  expect(places.map(campaignsOf)).toEqual([["2031-10"], ["2031-10", "2032-03"]]);
});

it("is explained where a note of one campaign explains it", () => {
  const [place] = placesOf([seen("a", 5, 9), seen("b", 6, 10, "culvert")]);
  expect(place && isUnexplained(place)).toBe(false);
});

it("keeps lines apart, and finds the main one's findings", () => {
  const two = [seen("a", 5, 9, "", "crest"), seen("a", 6, 8, "", "toe")];
  expect(placesOf(two)).toHaveLength(2);
  expect(ofMainLine(two)).toEqual([two[0]]);
  expect(ofMainLine([seen("a", 5, 9)])).toHaveLength(1);
});
