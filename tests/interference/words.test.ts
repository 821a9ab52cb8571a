import { expect, it } from "vitest";
import { shownText } from "../../lib/interference/words.js";
import type { Channel } from "../../lib/survey/survey.js";

const channel = (field: string, frequency_Hz: number, kind: Channel["kind"]) =>
  ({ field, frequency_Hz, kind, orientation: "HCP", separation_m: 1.8 }) as Channel;

const all = [
  channel("q_4k", 4000, "quadrature"),
  channel("i_4k", 4000, "inphase"),
  channel("q_60k", 60_000, "quadrature"),
  channel("i_60k", 60_000, "inphase"),
];

it("says which channels show something in words, the fewer of those that do and do not", () => {
  const fields = all.map(({ field }) => field);
  expect(shownText(fields, all)).toBe("all 4");
  expect(shownText([], all)).toBe("none");
  expect(shownText(["q_4k"], all)).toBe("1 of 4: quadrature, 4 kHz, HCP, 1.8 m");
  expect(shownText(fields.slice(0, 3), all)).toBe("3 of 4: not in-phase, 60 kHz, HCP, 1.8 m");
});
