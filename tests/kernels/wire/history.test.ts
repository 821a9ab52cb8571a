import { describe, expect, it } from "vitest";
import { matchesGlob } from "../../../kernels/wire/glob.js";
import { History } from "../../../kernels/wire/history.js";

function filled(): History {
  const history = new History();
  history.add(1, "openSurvey('a')", null);
  history.add(2, "1 + 1", "2");
  history.add(3, "openSurvey('b')", null);
  history.add(4, "1 + 1", "2");
  return history;
}

describe("history", () => {
  it("gives a range without its end, with outputs where asked", () => {
    const request = { hist_access_type: "range", session: 0, start: 2, stop: 4, output: true };
    expect(filled().rows(request)).toEqual([
      [1, 2, ["1 + 1", "2"]],
      [1, 3, ["openSurvey('b')", null]],
    ]);
    expect(filled().rows({ ...request, session: 7 })).toEqual([]);
  });

  it("gives the last n", () => {
    const rows = filled().rows({ hist_access_type: "tail", n: 1, output: false });
    expect(rows).toEqual([[1, 4, "1 + 1"]]);
    expect(filled().rows({ hist_access_type: "tail", n: 0 })).toEqual([]);
  });

  it("searches by pattern, the last n, each input once where asked", () => {
    const search = { hist_access_type: "search", output: false };
    expect(
      filled()
        .rows({ ...search, pattern: "open*" })
        .map(([, line]) => line),
    ).toEqual([1, 3]);
    expect(
      filled()
        .rows({ ...search, pattern: "*", n: 2 })
        .map(([, line]) => line),
    ).toEqual([3, 4]);
    const unique = filled().rows({ ...search, pattern: "*", unique: true });
    expect(unique.map(([, line]) => line)).toEqual([1, 3, 4]);
  });

  it("gives nothing for what it does not know", () => {
    expect(filled().rows({ hist_access_type: "elsewhere" })).toEqual([]);
    expect(filled().rows({})).toEqual([]);
  });
});

describe("a glob pattern", () => {
  it.each([
    ["abc", "abc", true],
    ["abc", "a*", true],
    ["abc", "*b*", true],
    ["abc", "a?c", true],
    ["abc", "a?", false],
    ["abc", "*", true],
    ["", "*", true],
    ["", "?", false],
    ["a.c", "a.c", true],
    ["abc", "a.c", false],
    ["aXbXc", "a*X*c", true],
    ["aab", "*ab", true],
  ])("%j like %j: %j", (text, pattern, fits) => {
    expect(matchesGlob(text, pattern)).toBe(fits);
  });

  it("is quick although nothing fits", () => {
    const before = performance.now();
    expect(matchesGlob("a".repeat(5000), `${"*a".repeat(50)}b`)).toBe(false);
    expect(performance.now() - before).toBeLessThan(1000);
  });
});
