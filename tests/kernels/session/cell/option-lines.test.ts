import { describe, expect, it } from "vitest";
import { readOptionLines } from "../../../../kernels/session/cell/option-lines.js";

describe("option lines", () => {
  it("at the head of a cell are read and blanked; other lines keep their numbers", () => {
    const cell = '#| label: fig-map\n#| caption: "The bank: from above"\nconst a = 1;\na';
    expect(readOptionLines(cell)).toEqual({
      options: { label: "fig-map", caption: "The bank: from above" },
      code: "\n\nconst a = 1;\na",
    });
  });

  it("end at the first line of code: what stands below belongs to the code", () => {
    const cell = "const text = `\n#| label: inside\n`;";
    expect(readOptionLines(cell)).toEqual({ options: {}, code: cell });
  });

  it("may have blank lines between them, Windows line ends, and texts of several lines", () => {
    const cell = "\r\n#| caption: Two\r\n#|   lines\r\n\r\n//| label: b\r\n#|\r\n1";
    expect(readOptionLines(cell)).toEqual({
      options: { caption: "Two lines", label: "b" },
      code: "\r\n\r\n\r\n\r\n\r\n\r\n1",
    });
  });

  it("given twice keep the last text; a line without a name before it is dropped", () => {
    expect(readOptionLines("#| stray\n#| label: a\n#| label: 'b'\n").options).toEqual({
      label: "b",
    });
  });

  it("leave a cell without them as it is", () => {
    for (const cell of ["", "\n\n", "// | not one", "# not one", "1 #| label: a"]) {
      expect(readOptionLines(cell)).toEqual({ options: {}, code: cell });
    }
  });
});
