import { describe, expect, it } from "vitest";
import { binMisfit, misfitBins } from "../../../../lib/depth/views/residuals/misfit-bins.js";
import { residualFigures } from "../../../../lib/depth/views/residuals/residual-figure.js";
import { residualTables } from "../../../../lib/depth/views/residuals/residual-tables.js";
import { expectDraws, expectValidSpec } from "../../../figures/support/check-spec.js";
import { meetingTexts } from "../../../figures/support/text-boxes.js";
import { makeDepthSlices } from "../../../support/depth-slices.js";
import { makeFittedSlices } from "../../../support/fitted-slices.js";

interface Bar {
  readonly n: string;
  readonly a: number;
  readonly b: number;
  readonly g: string;
}

const figureOf = (value: Parameters<typeof residualFigures>[0]) => residualFigures(value)[0]!;
const bars = ({ spec }: ReturnType<typeof figureOf>) =>
  (spec as unknown as { vconcat: { data: { values: readonly Bar[] } }[] }).vconcat[0]!.data.values;

describe("the figure of residuals", () => {
  it("inks the channel and the stretch that are not explained, and nothing else", () => {
    const residual = (c: number, x: number) => (c === 1 && x >= 200 && x < 260 ? 4 : 0.5);
    const figure = figureOf(makeFittedSlices({ residual }));
    expect(bars(figure)).toHaveLength(1);
    const [bar] = bars(figure);
    expect(bar).toMatchObject({ a: 199, b: 259, g: "over 3" });
    expect(bar!.n).toMatch(/^HCP quadrature, 60 kHz · \d\.\d m$/);
    // Four channels there: sqrt((16 + 3 × 0.25) / 4) = 2.05, over 1.5.
    expect(figure.title).toBe(
      "Campaign 2031-10: layered ground meets 98 % of the readings within 1.5 times their noise; " +
        "199–259 m worst",
    );
  });

  it("names the channel that is met worst everywhere, or lies to one side", () => {
    const worst = makeFittedSlices({ residual: (c, _x, noise) => (c === 2 ? 2 : 0.8) * noise });
    expect(figureOf(worst).title).toMatch(
      /[;,] VCP quadrature, 4 kHz least of all \((1\.9|2\.[01]) times\)$/,
    );
    const aside = makeFittedSlices({
      residual: (c, _x, noise) => 0.6 * noise - (c === 3 ? 0.8 : 0),
    });
    expect(figureOf(aside).title).toMatch(
      /; VCP quadrature, 60 kHz lies below the model all along$/,
    );
    const fine = makeFittedSlices({ residual: () => 0.9 });
    expect(figureOf({ ...fine, channels: fine.channels!.slice(0, 2) }).title).toMatch(/lies above/);
    const calm = makeFittedSlices({ residual: (_c, x) => (x % 4 < 2 ? 0.9 : -0.9) });
    expect(figureOf(calm).title).toBe(
      "Campaign 2031-10: layered ground meets all of the readings within 1.5 times their noise; " +
        "no " +
        "channel and no stretch stands out",
    );
  });

  it("tells a channel without readings from one that is met", () => {
    const residual = (c: number, x: number) => (c === 0 && x < 100 ? Number.NaN : 0.5);
    const found = bars(figureOf(makeFittedSlices({ residual })));
    expect(found.map(({ a, b, g }) => [a, b, g])).toEqual([[-1, 99, "no reading"]]);
  });

  it("takes unit noise for noise: ink on one bin in twenty", () => {
    const value = makeFittedSlices({ stations: 5000 });
    const inked = misfitBins(value).flatMap((bin) =>
      value.channels!.map(({ residual }) => binMisfit([residual], bin) > 1.5),
    );
    // Of 17 stations a bin: chi-square of 17 over 38.25 has a probability of 0.0023 (five: 0.047).
    const share = inked.filter(Boolean).length / inked.length;
    expect(share).toBeLessThan(0.008);
    expect(figureOf(value).title).toMatch(/no channel and no stretch stands out$/);
  });

  it("is valid, keeps its texts apart, and stays small for 10,000 stations", async () => {
    const figure = figureOf(makeFittedSlices({ stations: 10_000, gaps_m: [[300, 330]] }));
    expectValidSpec(figure.spec);
    const svg = await expectDraws(figure.spec);
    expect(meetingTexts(svg)).toEqual([]);
    expect(svg.length).toBeLessThan(400_000);
    expect(svg).toContain(">set aside</text>");
  });

  it("is not drawn where no channel tells its fit", () => {
    expect(residualFigures(makeDepthSlices())).toEqual([]);
    expect(residualTables(makeDepthSlices())).toEqual([]);
  });
});
