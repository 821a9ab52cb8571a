import { describe, expect, it } from "vitest";
import { type DepthFigure, depthSpec } from "../../../lib/figures/depth/depth.js";
import { frozen } from "../../../lib/step/frozen.js";
import { expectDraws, expectValidSpec } from "../support/check-spec.js";
import { meetingTexts } from "../support/text-boxes.js";

const figure: DepthFigure = {
  title: "A resistive layer lies between 1 m and 2 m",
  subtitle: "Campaign 2031-10",
  base_m: 4,
  panels: [
    {
      kind: "column",
      label: "Log of BH3",
      layers: [
        { top_m: 0, base_m: 0.1, text: "sandy SILT", short: "saSi" },
        { top_m: 0.1, base_m: 2, text: "silty CLAY with a very long name indeed", short: "siCl" },
        { top_m: 2, base_m: 9, text: "fine SAND", short: "Sa" },
        { top_m: 9, base_m: 12, text: "never drawn", short: "no" },
      ],
    },
    {
      kind: "values",
      label: "Resistivity",
      axis: "Resistivity (ohm-m)",
      scale: "log",
      legend: "Resistivity",
      steps: [
        {
          name: "most likely",
          top_m: [0, 1, 2, 6],
          value: [20, 80, 30, 1],
          lo: [18, 50, Number.NaN, 1],
          hi: [22, 120, 60, 1],
        },
      ],
      points: [
        { name: "sample", depth_m: 1.5, value: 90 },
        { name: "sample", depth_m: 7, value: 9000 },
      ],
    },
    {
      kind: "values",
      label: "Sensitivity",
      axis: "Above (%)",
      scale: "linear",
      domain: [0, 100],
      legend: "Channels",
      curves: [
        { name: "HCP", detail: "HCP, 1 kHz", depth_m: [0, 1, 3, 8], value: [0, 30, 60, 90] },
        { name: "HCP", detail: "HCP, 9 kHz", depth_m: [0, 1, 3, 8], value: [0, 32, 64, 92] },
        { name: "VCP", detail: "VCP, 1 kHz", depth_m: [0, 1, 3, 8], value: [0, 50, 80, 95] },
      ],
    },
  ],
  below: { from_m: 3, text: "reliable to 3 m" },
};

interface View {
  readonly layer: readonly {
    readonly mark: { readonly type: string };
    readonly data?: { readonly values: readonly Readonly<Record<string, unknown>>[] };
  }[];
}

/** Rows of the layers of one kind of mark in a panel. */
function drawn(panel: number, mark: string) {
  const { hconcat } = depthSpec(figure) as unknown as { hconcat: readonly View[] };
  const layers = hconcat[panel]!.layer.filter((layer) => layer.mark.type === mark);
  return layers.map(({ data }) => data?.values ?? []);
}

describe("panels over one depth axis", () => {
  it("follow the schema, draw without a warning, and change nothing that was given", async () => {
    const spec = depthSpec(frozen(figure));
    expectValidSpec(spec);
    await expectDraws(spec);
    expectValidSpec(depthSpec({ title: "Nothing", base_m: 1, panels: [] }));
    await expectDraws(depthSpec({ title: "Nothing", base_m: 1, panels: [] }));
  });

  it("draw layers as steps down to the base, and bands where both bounds are known", () => {
    const [steps] = drawn(1, "line");
    expect(steps!.map(({ v, d }) => [v, d])).toEqual([
      [20, 0],
      [20, 1],
      [80, 1],
      [80, 2],
      [30, 2],
      [30, 4],
    ]);
    const bands = drawn(1, "rect")
      .flat()
      .filter((row) => "lo" in row);
    expect(bands.map(({ lo, hi, u, l }) => [lo, hi, u, l])).toEqual([
      [18, 22, 0, 1],
      [50, 120, 1, 2],
    ]);
    expect(
      drawn(1, "point")
        .flat()
        .map(({ v }) => v),
    ).toEqual([90]);
  });

  it("write a layer's name where it fits, its letters where only they do, and cut it at the base", () => {
    const [layers] = drawn(0, "rect");
    expect(layers!.map(({ s, u, l }) => [s, u, l])).toEqual([
      ["", 0, 0.1],
      ["siCl", 0.1, 2],
      ["fine SAND", 2, 4],
    ]);
  });

  it("give one colour a name, and keep all texts apart", async () => {
    const svg = await expectDraws(depthSpec(figure));
    const names = ["most likely", "sample", "HCP", "VCP", "reliable to 3 m"];
    for (const name of names) expect(svg).toContain(`>${name}</text>`);
    expect(meetingTexts(svg)).toEqual([]);
  });
});
