import { describe, expect, it } from "vitest";
import { depthSpec } from "../../../lib/figures/depth/depth.js";
import { frozen } from "../../../lib/step/frozen.js";
import { expectDraws, expectValidSpec } from "../support/check-spec.js";
import { sampleDepth } from "../support/samples.js";
import { meetingTexts } from "../support/text-boxes.js";

const figure = sampleDepth();

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
