import { expect, it } from "vitest";
import { listText } from "../../lib/step/list-text.js";

it("puts commas between parts and an and before the last", () => {
  expect([[], ["a"], ["a", "b"], ["a", "b", "c"]].map(listText)).toEqual([
    "",
    "a",
    "a and b",
    "a, b and c",
  ]);
});
