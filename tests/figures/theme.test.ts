import { describe, expect, it } from "vitest";
import { lightness, oklab } from "../../lib/figures/colour.js";
import { classColours, coloursOf, resistivityRamp } from "../../lib/figures/theme.js";
import { expectClose } from "../support/expect-close.js";

type Triple = readonly [number, number, number];

function distance(a: string, b: string): number {
  const [p, q] = [oklab(a), oklab(b)];
  return Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
}

// Full dichromacy in linear RGB: Machado, Oliveira & Fernandes (2009), IEEE TVCG 15(6), severity 1.0
// (mem: matrices as commonly tabulated).
const deficiencies: Readonly<Record<string, readonly Triple[]>> = {
  protan: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  deutan: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
};

function seenBy(kind: string, colour: string): string {
  const linear = [1, 3, 5].map((i) => {
    const v = Number.parseInt(colour.slice(i, i + 2), 16) / 255;
    return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
  });
  const hex = deficiencies[kind]!.map((row) => {
    const v = Math.min(
      1,
      Math.max(
        0,
        row.reduce((sum, part, i) => sum + part * linear[i]!, 0),
      ),
    );
    const curved = v <= 0.0031308 ? v * 12.92 : 1.055 * v ** (1 / 2.4) - 0.055;
    return Math.round(curved * 255)
      .toString(16)
      .padStart(2, "0");
  });
  return `#${hex.join("")}`;
}

describe("the resistivity ramp", () => {
  it("takes equal steps of perceived colour", () => {
    const steps = resistivityRamp.slice(1).map((stop, i) => distance(resistivityRamp[i]!, stop));
    const mean = steps.reduce((sum, step) => sum + step, 0) / steps.length;
    // 8 bits a channel move a stop by up to 0.003, and a chord is a little shorter than its arc.
    for (const step of steps) expectClose(step, mean, { relative: 0.08 });
  });

  it.each(["protan", "deutan"])("still rises in lightness for %s vision", (kind) => {
    const lights = resistivityRamp.map((stop) => lightness(seenBy(kind, stop)));
    for (let i = 1; i < lights.length; i++)
      expect(lights[i]! - lights[i - 1]!).toBeGreaterThan(0.025);
  });

  it("keeps its light end apart from the paper", () => {
    expect(distance(resistivityRamp[8]!, "#ffffff")).toBeGreaterThan(0.12);
  });
});

describe("the class colours", () => {
  it.each(["protan", "deutan"])("the first five differ for %s vision", (kind) => {
    const seen = classColours.slice(0, 5).map((colour) => seenBy(kind, colour));
    for (let a = 0; a < seen.length; a++) {
      for (let b = 0; b < a; b++) expect(distance(seen[a]!, seen[b]!)).toBeGreaterThan(0.08);
    }
  });
});

describe("coloursOf", () => {
  it("gives a name its own colour, else the class colour at its place, and begins again", () => {
    expect(coloursOf(["a", "b"], { a: "#123456" })).toEqual(["#123456", classColours[1]]);
    const names = Array.from({ length: classColours.length + 1 }, (_, i) => `${i}`);
    expect(coloursOf(names)).toEqual([...classColours, classColours[0]]);
  });
});
