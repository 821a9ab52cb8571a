import { expect, it } from "vitest";
import type { DepthSlices } from "../../lib/depth/depth-slices.js";
import { estimateDepthSlices } from "../../lib/depth/estimate-depth-slices.js";
import { median } from "../../lib/numerics/statistics/robust.js";
import { type Ground, walked } from "../support/walked.js";

const ground: Ground = { conductivity_S_per_m: [1 / 40, 1 / 20], thickness_m: [1.5] };
const sound = walked({ groundAt: () => ground, length_m: 120, noise: 1 });

/** Metal that goes along with the line: orientations and parts read what no layers give together. */
const overMesh = (x: number) => x >= 40 && x <= 90;
const meshed = {
  ...sound,
  passes: sound.passes.map((pass) => ({
    ...pass,
    values: pass.values.map((row, c) => {
      const { kind, orientation } = pass.instrument.channels[c]!;
      const [times, off] = orientation === "HCP" ? [0.4, 250] : [1.3, -120];
      return row.map((value, i) =>
        overMesh(pass.chainage_m[i]!)
          ? times * value + (kind === "inphase" ? 5 * off : off)
          : value,
      );
    }),
  })),
};

/** Median over stations of the first slice's 80 % interval, decades. */
function width({ chainage_m, p10, p90 }: Required<DepthSlices>, isWithin: (x: number) => boolean) {
  const widths = p90[0]!.map((high, i) => high - p10[0]![i]!);
  return median(widths.filter((_, i) => isWithin(chainage_m[i]!)));
}

it("learns the noise of a line from what ground explains, and is unsure where none does", async () => {
  const slices = [{ top_m: 0, base_m: 1.5 }];
  const [alone, beside] = await Promise.all(
    [sound, meshed].map(async (one) => (await estimateDepthSlices(one, { slices })).value),
  );
  const [before, after] = [alone, beside] as [Required<DepthSlices>, Required<DepthSlices>];
  const elsewhere = (x: number) => x < 36 || x > 94;
  // With the mesh's misfit taken for noise of the whole line: 4.4 times as wide.
  expect(width(after, elsewhere) / width(before, elsewhere)).toBeLessThan(1.6);
  expect(width(after, overMesh)).toBeGreaterThan(2.5 * width(before, overMesh));
  const misfit = (isWithin: (x: number) => boolean) =>
    median(after.misfit.filter((_, i) => isWithin(after.chainage_m[i]!)));
  expect(misfit(elsewhere)).toBeLessThan(1.2);
  expect(misfit(overMesh)).toBeGreaterThan(3);
});
