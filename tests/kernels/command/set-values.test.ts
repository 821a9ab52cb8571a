import { describe, expect, it } from "vitest";
import { UsageFault } from "../../../kernels/command/failure.js";
import { setValues } from "../../../kernels/command/set-values.js";

describe("--set", () => {
  it("reads JSON as JSON and anything else as a text", () => {
    const words = ["a=1", 'b="two"', "c=three", "d=[1,null]", "e=", "f=x=y", "größe_m=2.5"];
    expect(setValues(words)).toEqual({
      a: 1,
      b: "two",
      c: "three",
      d: [1, null],
      e: "",
      f: "x=y",
      größe_m: 2.5,
    });
  });

  it("refuses what is not name=value", () => {
    for (const word of ["a", "=1", "1a=2", "a b=1", ""]) {
      expect(() => setValues([word])).toThrow(UsageFault);
    }
  });
});
