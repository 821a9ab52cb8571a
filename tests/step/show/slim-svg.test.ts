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
  expect(slimSvg('<path d="M1.23456,2h3.0000001v-1e-17"/>')).toBe('<path d="M1.23,2h3v-1e-17"/>');
  expect(slimSvg('<path d="M1.23456,2L3.987,-4.04"/>')).toBe('<path d="M1.2,2L4,-4"/>');
  expect(slimSvg('<text x="1.2345">1.2345</text>')).toBe('<text x="1.23">1.2345</text>');
});
