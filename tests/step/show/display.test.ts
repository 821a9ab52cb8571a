import { describe, expect, it } from "vitest";
import { stripSpec } from "../../../lib/figures/strip/strip.js";
import { displayAll, displayOne } from "../../../lib/step/show/display.js";
import { StepResult } from "../../../lib/step/step-result.js";
import { expectValidSpec } from "../../figures/support/check-spec.js";

const x = [0, 50, 100];
const panel = {
  kind: "lines",
  label: "ppm",
  scale: "linear",
  series: [{ name: "a", x, y: x }],
} as const;

function result() {
  return new StepResult({
    step: "correctDrift",
    summary: "Drift of up to 12 ppm an hour was removed & <checked>.",
    value: 1,
    used: { model: "piecewise", minChecks: 3, limits: [1, 2], of: { a: 1 } },
    basis: [{ statement: "Base checks bound the drift.", source: "common practice" }],
    cautions: [
      { step: "correctDrift", text: "One check only <script>." },
      { step: "correctDrift", text: "One check only <script>." },
    ],
    accounting: {
      readings: 1300,
      kept: 1000,
      corrected: 290,
      setAside: [{ cause: "no value", readings: 10 }],
    },
    figures: [
      {
        id: "drift 1",
        title: "It drifts",
        caption: "Line: drift (ppm) & <more>.",
        spec: stripSpec({ title: "It drifts", panels: [panel] }),
      },
      {
        id: "drift-2",
        title: "It drifts still",
        caption: "As above.",
        spec: stripSpec({ title: "It drifts still", panels: [panel] }),
      },
    ],
    tables: [
      {
        id: "t",
        caption: "Rates",
        columns: [
          { field: "channel", label: "Channel" },
          { field: "rate", label: "Rate (ppm/h)", digits: 1 },
        ],
        rows: [
          { channel: "<b>q</b>", rate: -1234.56 },
          { channel: "p", rate: null },
        ],
      },
    ],
  });
}

describe("displayOne", () => {
  it("shows summary, counts, cautions, options, basis, tables and every figure", async () => {
    const bundle = await displayOne(result());
    const html = bundle["text/html"] as string;
    expect(html).toContain("removed &amp; &lt;checked&gt;.");
    expect(html).toContain("1,300 readings: 1,000 kept, 290 corrected, 10 set aside.");
    expect(html.match(/<strong>Caution\./g)).toHaveLength(1);
    expect(html).toContain("Set aside: no value");
    expect(html).toContain("piecewise");
    expect(html).toContain("Base checks bound the drift.");
    expect(html).toContain("−1,234.6");
    expect(html.match(/<svg /g)).toHaveLength(2);
    expect(bundle["text/plain"]).toContain("Caution: One check only <script>.");
  });

  it("escapes whatever a survey's texts hold", async () => {
    const html = (await displayOne(result()))["text/html"] as string;
    expect(html).not.toMatch(/<script|<b>q|<checked|<more/);
  });

  it("gives the drawings of one page ids of their own", async () => {
    const html = (await displayOne(result()))["text/html"] as string;
    const ids = [...html.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id);
    expect(ids.length).toBeGreaterThan(1);
    expect(new Set(ids).size).toBe(ids.length);
    const used = [...html.matchAll(/url\(#([^)]+)\)/g)].map(([, id]) => id);
    expect(used.filter((id) => !ids.includes(id))).toEqual([]);
  });
});

describe("displayAll", () => {
  it("shows the account first and each figure as an output of its own", async () => {
    const bundles = await displayAll(result());
    expect(bundles.map((bundle) => Object.keys(bundle))).toEqual([
      ["text/html", "text/plain"],
      ["application/vnd.vegalite.v5+json", "image/svg+xml", "text/plain"],
      ["application/vnd.vegalite.v5+json", "image/svg+xml", "text/plain"],
    ]);
    expect(bundles[0]!["text/html"]).not.toContain("<svg ");
    expect(bundles[1]!["text/plain"]).toBe("It drifts\nLine: drift (ppm) & <more>.");
  });

  it("carries id, title and caption in a specification that is still valid", async () => {
    const spec = (await displayAll(result()))[1]!["application/vnd.vegalite.v5+json"] as {
      usermeta: unknown;
    };
    expect(spec.usermeta).toEqual({
      banquette: { id: "drift 1", title: "It drifts", caption: "Line: drift (ppm) & <more>." },
    });
    expectValidSpec(spec);
  });

  it("draws the same twice", async () => {
    expect(await displayAll(result())).toEqual(await displayAll(result()));
  });
});
