import { describe, expect, it } from "vitest";
import type { Detection } from "../../../lib/interference/metal/detect-metal.js";
import {
  mergeStretches,
  silentObjects,
} from "../../../lib/interference/stretches/merge-stretches.js";
import type { NotedObject } from "../../../lib/interference/stretches/noted-objects.js";

const options = { reach_m: 5, mergeWithin_m: 4, maskSilent: false };

const detection = (from_m: number, to_m: number, offset_m = 0): Detection => ({
  from_m,
  to_m,
  offset_m,
  channels: ["a"],
  score: 9,
});

const gate = (at_m: number, sketch: Partial<NotedObject> = {}): NotedObject => ({
  note: {
    row: 2,
    kind: "metal",
    object: "gate",
    from_m: at_m,
    to_m: at_m,
    offset_m: null,
    time_s: null,
    campaign: null,
    text: "",
  },
  from_m: at_m - 5,
  to_m: at_m + 5,
  readings: 8,
  score: 1,
  seen: false,
  channels: [],
  offset_m: null,
  ...sketch,
});

const extents = (merged: ReturnType<typeof mergeStretches>) =>
  merged.map(({ from_m, to_m, detected, objects }) => [from_m, to_m, detected, objects.join()]);

describe("mergeStretches", () => {
  it("joins a note and a detection that meet", () => {
    const merged = mergeStretches([gate(100)], [detection(97, 108)], options);
    expect(extents(merged)).toEqual([[95, 108, true, "gate"]]);
  });

  it("keeps detections apart that lie further apart than asked, and joins closer ones", () => {
    const found = [detection(30, 35), detection(10, 12), detection(15.5, 20)];
    expect(extents(mergeStretches([], found, options))).toEqual([
      [10, 20, true, ""],
      [30, 35, true, ""],
    ]);
  });

  it("keeps a silent note in use, unless asked to mask it", () => {
    const silent = gate(100);
    expect(mergeStretches([silent], [], options)).toEqual([]);
    expect(silentObjects([silent], [], 5)).toEqual([silent]);
    const masked = mergeStretches([silent], [], { ...options, maskSilent: true });
    expect(extents(masked)).toEqual([[95, 105, false, "gate"]]);
  });

  it("sets a note with a weak trace aside as documented", () => {
    const weak = gate(100, { seen: true, channels: ["a"], offset_m: 0 });
    expect(extents(mergeStretches([weak], [], options))).toEqual([[95, 105, false, "gate"]]);
    expect(silentObjects([weak], [], 5)).toEqual([]);
  });

  it("says nothing about a note without readings", () => {
    const blind = gate(100, { readings: 0 });
    expect(mergeStretches([blind], [], { ...options, maskSilent: true })).toEqual([]);
    expect(silentObjects([blind], [], 5)).toEqual([]);
  });

  it("does not join what lies on lines out of each other's reach", () => {
    const merged = mergeStretches([], [detection(10, 20, 0), detection(12, 18, 16)], options);
    expect(merged.map(({ offset_m }) => offset_m)).toEqual([0, 16]);
  });
});
