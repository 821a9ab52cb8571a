import { expect, it } from "vitest";
import { slimSvg } from "../../../lib/step/show/slim-svg.js";

it("drops names of parts and what answers to a pointer, and writes the face once", () => {
  const svg =
    '<svg width="9"><g class="mark" role="x" aria-label="a: 1" pointer-events="none">' +
    '<text font-family="Arial" opacity="1" stroke-width="0">12.34567</text>' +
    '<text font-family="Arial" opacity="0.5">b</text></g></svg>';
  expect(slimSvg(svg)).toBe(
    '<svg font-family="Arial" width="9"><g><text stroke-width="0">12.34567</text>' +
      '<text opacity="0.5">b</text></g></svg>',
  );
});

it("rounds places to a hundredth of a pixel, along a curve to a tenth", () => {
  const path = (d: string) => `<path d="${d}" fill="red"/>`;
  expect(slimSvg(path("M1.23456,2h3.0000001v-1e-17"))).toBe(path("M1.23,2h3v0"));
  expect(slimSvg(path("M1.23456,2L3.987,-4.04"))).toBe(path("M1.2,2l2.8-6"));
  expect(slimSvg('<text x="1.2345">1.2345</text>')).toBe('<text x="1.23">1.2345</text>');
});

it("leaves out empty paths, strokes that are not drawn and values that hold anyway", () => {
  const line = '<line x1="0" x2="0" y2="-40" stroke="#e6e8ea" stroke-width="1"></line>';
  expect(slimSvg(line)).toBe('<line y2="-40" stroke="#e6e8ea"/>');
  expect(slimSvg('<g fill="none"><path d="" display="none"></path></g>')).toBe(
    '<g fill="none"></g>',
  );
  expect(slimSvg('<path d="M0,0h780v130h-780Z"></path>')).toBe("");
  expect(slimSvg('<g transform="translate(0,0)"><g></g>a</g>')).toBe("<g>a</g>");
  expect(slimSvg('<path d="M0,0h1" fill="red" stroke-width="0.7"></path>')).toBe(
    '<path d="M0,0h1" fill="red"/>',
  );
  expect(slimSvg('<path d="M0,0h1" stroke="red" stroke-width="0.7"></path>')).toContain("0.7");
});

it("draws a line from where it is moved to, and leaves one that is turned", () => {
  const line = (place: string) => `<line transform="${place}" x2="0" y2="-40" stroke="red"></line>`;
  expect(slimSvg(line("translate(715.004,2)"))).toBe('<path d="M715,2v-40" stroke="red"/>');
  expect(slimSvg(line("translate(1,2) rotate(9)"))).toContain("rotate(9)");
});

it("draws a dot as a circle", () => {
  const dot =
    '<path transform="translate(269.204,30.6)" d="M0.87,0A0.87,0.87,0,1,1,-0.87,0A0.87,0.87,0,1,1,0.87,0" fill="red"></path>';
  expect(slimSvg(dot)).toBe('<circle cx="269.2" cy="30.6" r="0.87" fill="red"/>');
});
