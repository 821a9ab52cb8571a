import { describe, expect, it } from "vitest";
import { textWidth } from "../../../lib/step/show/text-width.js";
import { expectClose } from "../../support/expect-close.js";

describe("textWidth", () => {
  it("follows the published widths of Helvetica", () => {
    // Adobe Core 14 AFM, Helvetica: A 667, space 278, m 833 (1/1000 em).
    expect(textWidth("A m", 1000)).toBe(1778);
  });

  it("grows by 7 % in bold, and takes 0.556 em for a letter outside ASCII", () => {
    expectClose(textWidth("A m", 10, "bold"), 17.78 * 1.07, { absolute: 1e-9 });
    expectClose(textWidth("ü–😀", 10), 3 * 5.56, { absolute: 1e-9 });
  });
});
