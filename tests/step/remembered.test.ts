import { describe, expect, it } from "vitest";
import { Remembered } from "../../lib/step/remembered.js";

describe("what is remembered", () => {
  it("is made once for the same frozen values and settings", () => {
    const memory = new Remembered<object>(2);
    const [one, two] = [Object.freeze({ a: 1 }), Object.freeze({ a: 1 })];
    const made = memory.of([one], "x", () => ({}));
    expect(memory.of([one], "x", () => ({}))).toBe(made);
    expect(memory.of([one], "y", () => ({}))).not.toBe(made);
    expect(memory.of([two], "x", () => ({}))).not.toBe(made);
  });

  it("is forgotten once as many others came after it", () => {
    const memory = new Remembered<object>(2);
    const given = [1, 2, 3].map((a) => Object.freeze({ a }));
    const made = given.map((one) => memory.of([one], "", () => ({})));
    expect(memory.of([given[2]!], "", () => ({}))).toBe(made[2]);
    expect(memory.of([given[0]!], "", () => ({}))).not.toBe(made[0]);
  });

  it("is nothing of values that may change", () => {
    const memory = new Remembered<object>(2);
    const given = { a: 1 };
    const made = memory.of([given], "", () => ({}));
    expect(memory.of([given], "", () => ({}))).not.toBe(made);
  });
});
