import { describe, expect, it } from "vitest";
import { piecesOf } from "../../../lib/document/model/holding.js";
import { faces, family } from "../../../lib/document/pdf/faces.js";
import { lettersIn } from "../../../lib/document/pdf/letters.js";
import { paperText } from "../../../lib/document/pdf/paper-text.js";

const draws = lettersIn(faces()[0] as Buffer);
const set = paperText(draws);

describe("the paper's letters", () => {
  it("are those of European print and of formulas, and not those of Chinese", () => {
    for (const letter of "aZ09äßŁшΩµ·–−°≤≥×→ρ")
      expect(draws(letter.codePointAt(0)!), letter).toBe(true);
    for (const letter of "河🌊") expect(draws(letter.codePointAt(0)!), letter).toBe(false);
  });

  it("go by a name that no machine's own fonts have", () => {
    for (const face of faces()) {
      expect(face.includes("Arimo")).toBe(false);
      expect(face.includes(Buffer.from(family, "utf16le").swap16())).toBe(true);
    }
  });
});

describe("paperText", () => {
  it("keeps a value with its interval, a date and a unit in one piece", () => {
    const whole = (text: string) => piecesOf(set(text));
    expect(whole("30 (25–40)")).toHaveLength(1);
    expect(whole("1,818–1,903 m")).toHaveLength(1);
    expect(whole("60 kHz, 5 %")).toHaveLength(2);
    expect(whole("9 metres")).toHaveLength(2);
    expect(whole("2031-10")).toHaveLength(1);
    expect(whole("ohm-m")).toHaveLength(1);
    expect(whole("readings-2031-10-hcp.csv")).toEqual(["readings-2031-\u206010-", "hcp.csv"]);
    expect(whole("sand and gravel")).toHaveLength(3);
  });

  it("lets a long name break at what divides its parts, and a short one not", () => {
    expect(piecesOf(set("scoreSeepage.startingProbability"))).toEqual([
      "scoreSeepage.",
      "startingProbability",
    ]);
    expect(piecesOf(set("drift.evidence"))).toHaveLength(1);
  });

  it("says by its code point which letter it does not have", () => {
    expect(set("Wend 河")).toBe("Wend [U+6CB3]");
    expect(set("a\u0007b\tc")).toBe("ab\tc");
  });
});
