import { describe, expect, it } from "vitest";
import { failureOf, InputFault, UsageFault } from "../../../kernels/command/failure.js";

describe("a failure on the command line", () => {
  it("is one line a fault, then its details, with the exit code of its kind", () => {
    expect(failureOf(new InputFault(["a", "b"], ["the cell"]), false)).toEqual({
      lines: ["banquette: a", "banquette: b", "the cell"],
      exitCode: 1,
    });
    expect(failureOf(new UsageFault("c"), false)).toEqual({ lines: ["banquette: c"], exitCode: 2 });
  });

  it("of the program itself says so and exits 3", () => {
    expect(failureOf(new TypeError("x is not a function\nmore"), false)).toEqual({
      lines: ["banquette: a fault of the program: x is not a function"],
      exitCode: 3,
    });
    expect(failureOf("odd", false).exitCode).toBe(3);
  });

  it("shows the stack only where asked", () => {
    const { lines } = failureOf(new Error("x"), true);
    expect(lines.join("\n")).toMatch(/^ {4}at /m);
  });
});
