import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { FaultLog } from "../../../../lib/survey/check/faults.js";
import { csvBatches } from "../../../../lib/survey/read/table/csv.js";

describe("csvBatches", () => {
  const parse = (pieces: readonly string[]) => {
    const log = new FaultLog();
    const source = { file: "a.csv", pieces, dialect: {}, delimiter: "," };
    const records = [...csvBatches(source, log)].flat();
    return { records, faults: log.faults };
  };

  it("gives the same records wherever the text is cut", () => {
    const cell = fc.oneof(
      fc.constantFrom('"a,b"', '"a\nb"', '"a ""b"""', "", "1.5", "x", '"\r\n"', "é"),
      fc.stringMatching(/^[a-z0-9 .;-]{0,6}$/),
    );
    const row = fc.array(cell, { minLength: 1, maxLength: 4 }).map((cells) => cells.join(","));
    const text = fc
      .tuple(fc.array(row, { minLength: 1, maxLength: 8 }), fc.constantFrom("\n", "\r\n", "\r"))
      .map(([rows, end]) => rows.join(end));
    fc.assert(
      fc.property(text, fc.array(fc.nat(60), { maxLength: 5 }), (whole, cuts) => {
        const places = [0, ...cuts.toSorted((a, b) => a - b), whole.length];
        const pieces = places.slice(1).map((to, k) => whole.slice(places[k], to));
        expect(parse(pieces)).toEqual(parse([whole]));
      }),
      { numRuns: 400, seed: 2031 },
    );
  });
});
