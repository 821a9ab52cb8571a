import { describe, expect, it } from "vitest";
import { type TypeFault, tellingFaults } from "../../../../kernels/session/types/faults.js";

function fault(line: number, text: string, code = 2322): TypeFault {
  return { line, column: 4, endLine: line, endColumn: 9, text, code, file: null };
}

describe("tellingFaults", () => {
  it("has each fault once, and those of one place as one", () => {
    const union = fault(2, "Type 'Date' is not assignable to type 'string | number'.");
    const part = fault(2, "Type 'Date' is not assignable to type 'number'.");
    const other = fault(3, "Cannot find name 'reach'.", 2304);
    expect(tellingFaults([union, part, other, union])).toEqual([
      { ...union, text: `${union.text} ${part.text}` },
      other,
    ]);
  });

  it("keeps two files' faults at one place apart", () => {
    const here = fault(1, "A.");
    const there = { ...here, file: "gauges.ts" };
    expect(tellingFaults([here, there])).toEqual([here, there]);
  });

  it("has only what cannot be read where something cannot", () => {
    const unread = fault(0, "')' expected.", 1005);
    expect(tellingFaults([fault(1, "A."), unread])).toEqual([unread]);
  });
});
