import { expect, it } from "vitest";
import { accessible } from "../../docs/site/accessible.js";

it("names the main part, and lets headings skip no level", () => {
  const page = '<div class="col-content"><h1>A</h1><h3 class="x">B</h3><h4>C</h4><h2>D</h2></div>';
  expect(accessible(page)).toBe(
    '<div class="col-content" role="main"><h1>A</h1><h2 class="x">B</h2><h3>C</h3><h2>D</h2></div>',
  );
});

it("leaves no link in what opens and closes, and no heading without words", () => {
  const link = '<a href="#b" aria-label="Permalink" class="tsd-anchor-icon"><svg></svg></a>';
  expect(accessible(`<summary>B${link}</summary><p>${link}</p><th></th>`)).toBe(
    `<summary>B</summary><p>${link}</p><td></td>`,
  );
});
