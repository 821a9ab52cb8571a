import { describe, expect, it } from "vitest";
import { findSteps, possibleSteps, type StepSearch } from "../../../lib/drift/checks/find-steps.js";
import type { CheckVisit } from "../../../lib/drift/checks/visits.js";

const group = (hour: number, mean: number): CheckVisit => ({
  time_s: 3600 * hour,
  start_s: 3600 * hour - 20,
  end_s: 3600 * hour + 20,
  mean,
  error: 1,
  used: 10,
  bad: 0,
});

const walk_s = Float64Array.from({ length: 101 }, (_, i) => 36 * i);
const search: StepSearch = {
  walk_s,
  stepWithin_s: 900,
  stepMinimum: 4,
  stepSpeed: 2,
  events_s: [],
};

describe("findSteps", () => {
  it("finds a jump between visits that are close in time", () => {
    const groups = [group(0, 0), group(0.5, 10), group(0.6, 42), group(1, 50)];
    expect(findSteps(groups, search).map(({ after }) => after)).toEqual([1]);
  });

  it("takes steady drift for drift, however large", () => {
    const groups = [group(0, 0), group(0.5, 500), group(0.6, 600), group(1, 1000)];
    expect(findSteps(groups, search)).toEqual([]);
  });

  it("takes a jump that the errors explain for noise", () => {
    const groups = [group(0, 0), group(0.5, 0), group(0.6, 5), group(1, 5)];
    expect(findSteps(groups, search)).toEqual([]);
  });

  it("needs half the size only where another channel stepped at that time", () => {
    const groups = [group(0, 0), group(0.5, 0), group(0.6, 5), group(1, 5)];
    const found = findSteps(groups, { ...search, events_s: [0.55 * 3600] });
    expect(found.map(({ after }) => after)).toEqual([1]);
  });

  it("does not see a step between visits far apart with a walk between them", () => {
    const groups = [group(0, 0), group(0.4, 10), group(0.8, 100), group(1, 105)];
    expect(findSteps(groups, search)).toEqual([]);
  });

  it("sees a step between visits far apart where nobody walked", () => {
    const groups = [group(0, 0), group(1.1, 10), group(1.6, 100), group(2, 105)];
    expect(findSteps(groups, search).map(({ after }) => after)).toEqual([1]);
  });

  it("takes drift for drift where visits are so frequent that each gap might hold a step", () => {
    const groups = [0, 0.2, 0.4, 0.6, 0.8, 1].map((hour) => group(hour, 100 * hour));
    expect(findSteps(groups, search)).toEqual([]);
    const stepped = groups.map((one, i) => (i > 2 ? { ...one, mean: one.mean + 90 } : one));
    expect(findSteps(stepped, search).map(({ after }) => after)).toEqual([2]);
  });

  it("puts the step into the longest silence between the visits", () => {
    const paused = walk_s.filter((t) => t < 1872 || t > 2052);
    const groups = [group(0, 0), group(0.5, 10), group(0.6, 42), group(1, 50)];
    const [step] = findSteps(groups, { ...search, walk_s: paused });
    expect(step!.time_s).toBe((1836 + 2088) / 2);
  });
});

describe("possibleSteps", () => {
  const groups = [group(0, 0), group(0.5, 0), group(0.6, 0), group(1, 0)];

  it("are where visits are close in time, significant or not", () => {
    expect(possibleSteps(groups, search).map(({ after }) => after)).toEqual([1]);
  });

  it("are only where nobody walked, when visits are close throughout", () => {
    const frequent = [0, 0.2, 0.4, 0.6, 0.8, 1].map((hour) => group(hour, 0));
    expect(possibleSteps(frequent, search)).toEqual([]);
    const paused = { ...search, walk_s: walk_s.filter((t) => t < 1440 || t > 2160) };
    expect(possibleSteps(frequent, paused).map(({ after }) => after)).toEqual([2]);
  });
});
