import { describe, expect, it } from "vitest";
import { codeFrame } from "../../../../kernels/session/cell/code-frame.js";

const source = Array.from({ length: 12 }, (_, i) => `line ${i + 1}`).join("\n");

describe("a code frame", () => {
  it("shows the line between its neighbours, numbers aligned", () => {
    expect(codeFrame(source, { line: 9, column: 5, length: 2, note: "here" })).toBe(
      ["   9 | line 9", "> 10 | line 10", "     |      ^^ here", "  11 | line 11"].join("\n"),
    );
  });

  it("keeps to the text at its ends", () => {
    expect(codeFrame("only", { line: 0, column: 2, length: 40 })).toBe("> 1 | only\n    |   ^^");
    expect(codeFrame("", { line: 0, column: 0 })).toBe("> 1 |\n    | ^");
  });
});
