import { describe, expect, it } from "vitest";
import { kernelHelp } from "../../../kernels/command/kernel-help.js";
import { showing } from "../../../kernels/session/show/showing.js";

describe("what kernel help says", () => {
  it.each([
    ...Object.keys(showing),
    ...["prompt", "display", "clearOutput", "progress", "slider", "select"],
  ])("names the cells' own %s", (name) => {
    expect(kernelHelp).toMatch(new RegExp(`\\b${name}\\b`));
  });

  it("fits a terminal", () => {
    for (const line of kernelHelp.split("\n")) expect(line.length).toBeLessThanOrEqual(100);
  });
});
