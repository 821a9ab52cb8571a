import { describe, expect, it } from "vitest";
import { lightness, mixed, rampColour } from "../../lib/figures/colour.js";
import { resistivityRamp } from "../../lib/figures/theme.js";
import { expectClose } from "../support/expect-close.js";

describe("lightness", () => {
  it("is 0 for black, 1 for white, and between them for a grey", () => {
    expectClose(lightness("#000000"), 0, { absolute: 1e-6 });
    expectClose(lightness("#ffffff"), 1, { absolute: 1e-6 });
    // Grey of linear light y has OKLab lightness cbrt(y): the three cone responses are equal to it.
    const light = ((128 / 255 + 0.055) / 1.055) ** 2.4;
    expectClose(lightness("#808080"), Math.cbrt(light), { absolute: 1e-6 });
  });
});

describe("mixed and rampColour", () => {
  it("end on the colours they go between", () => {
    expect(mixed("#123456", "#fedcba", 0)).toBe("#123456");
    expect(mixed("#123456", "#fedcba", 1)).toBe("#fedcba");
    expect(rampColour(resistivityRamp, -3)).toBe(resistivityRamp[0]);
    expect(rampColour(resistivityRamp, 0.5)).toBe(resistivityRamp[4]);
  });
});
