import { describe, expect, it } from "vitest";
import { piecesOf } from "../../../lib/document/model/holding.js";
import { cellGap_pt, tableParts } from "../../../lib/document/model/table-widths.js";
import { textWidth } from "../../../lib/step/show/text-width.js";

const page = { upright_pt: 500, turned_pt: 750 };
const columns = (count: number, ...texts: readonly string[]) =>
  Array.from({ length: count }, () => ({ texts }));
const total = (widths: readonly number[]) => widths.reduce((sum, width) => sum + width, 0);

describe("tableParts", () => {
  it("gives each column what it asks for where all fit", () => {
    const [part, ...others] = tableParts(columns(3, "From (m)", "12.5"), page);
    expect(others).toEqual([]);
    expect(part!.turned).toBe(false);
    expect(total(part!.widths_pt)).toBeLessThan(200);
  });

  it("fills the page and no more where texts are long, and never cuts a word", () => {
    const words = "Because the note names a culvert under the crest that was never found again";
    const [part] = tableParts(columns(6, "Why", words), page);
    expect(total(part!.widths_pt)).toBeCloseTo(500, 0);
    const longest = Math.max(...piecesOf(words).map((word) => textWidth(word, part!.text_pt)));
    for (const width of part!.widths_pt) expect(width).toBeGreaterThan(longest + cellGap_pt);
  });

  it("gives the one long text of many columns the width that others can spare", () => {
    const long = "steady 28 %, straight 27 %, swing 20 %, warm-up 18 %, wander 8 %";
    const many = [
      ...columns(9, "How far it may be", "0.12"),
      { texts: ["Kinds of drift", long] },
      ...columns(2, "Done", "left: the checks agree within their errors"),
    ];
    const [part] = tableParts(many, page);
    const lines = textWidth(long, part!.text_pt) / (part!.widths_pt[9]! - cellGap_pt);
    expect(lines).toBeLessThan(3.5);
    expect(part!.widths_pt[9]).toBeGreaterThan(part!.widths_pt[10]!);
    expect(total(part!.widths_pt)).toBeLessThanOrEqual(500.1);
  });

  it("takes smaller letters before it turns the page", () => {
    const [part] = tableParts(columns(5, "q_130cm_12000Hz_hcp_12"), page);
    expect(part).toMatchObject({ turned: false });
    expect(part!.text_pt).toBeLessThan(7.5);
  });

  it("turns the page where a text would run over many lines", () => {
    const text = "a text that goes on and on in one of many columns, ".repeat(6);
    const many = [
      ...columns(12, "12.25", "102.25 ppm"),
      { texts: ["Why", ...Array(12).fill(text)] },
    ];
    expect(tableParts(many, page)).toMatchObject([{ turned: true }]);
    const few = [...columns(12, "12.25", "102.25 ppm"), { texts: ["Why", text] }];
    expect(tableParts(few, page)).toMatchObject([{ turned: false }]);
    expect(tableParts(many.slice(8), page)).toMatchObject([{ turned: false }]);
  });

  it("turns the page where words do not fit upright", () => {
    const [part, ...others] = tableParts(columns(7, "q_130cm_12000Hz_hcp"), page);
    expect(part).toMatchObject({ turned: true });
    expect(others).toEqual([]);
  });

  it("cuts what fits no page into parts, each with the first column", () => {
    const parts = tableParts(columns(20, "q_130cm_12000Hz_hcp"), page);
    expect(parts.length).toBeGreaterThan(1);
    expect(parts.every((part) => part.columns[0] === 0)).toBe(true);
    const rest = parts.flatMap((part) => part.columns.slice(1));
    expect(rest).toEqual(Array.from({ length: 19 }, (_, i) => i + 1));
    for (const part of parts) expect(total(part.widths_pt)).toBeLessThanOrEqual(750.1);
  });
});
