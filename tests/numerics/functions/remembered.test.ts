import { describe, expect, it } from "vitest";
import { Remembered } from "../../../lib/numerics/functions/remembered.js";

describe("results that are remembered", () => {
  it("are made once for each text, and the oldest is forgotten first", () => {
    const made: string[] = [];
    const remembered = new Remembered<number>(2);
    const get = (text: string) => remembered.get(text, () => made.push(text));
    expect([get("a"), get("b"), get("a")]).toEqual([1, 2, 1]);
    get("c");
    expect(get("b")).toBe(2);
    expect(get("a")).toBe(4);
    expect(made).toEqual(["a", "b", "c", "a"]);
  });
});
