import { coilKernel } from "../lib/earth/coil-kernel.js";
import { coilResponse } from "../lib/earth/coil-response.js";
import { type BenchRow, timed } from "./timed.js";

const FREQUENCIES_HZ = [1500, 4800, 12000, 27000, 60000];

/** The public response of 25 layers, and the inversion's kernel: 20 layers, 10 channels. */
export function benchCoilResponse(): readonly BenchRow[] {
  const earth = {
    conductivity_S_per_m: Array.from({ length: 25 }, (_, i) => 0.01 + 0.002 * i),
    thickness_m: new Array<number>(24).fill(0.3),
  };
  const coils = { orientation: "HCP", separation_m: 1.8, frequency_Hz: 12000 } as const;
  const channels = FREQUENCIES_HZ.flatMap((frequency_Hz) =>
    (["HCP", "VCP"] as const).map((orientation) => ({ ...coils, orientation, frequency_Hz })),
  );
  const thickness_m = Array.from({ length: 19 }, (_, i) => 0.2 * 1.1 ** i);
  const kernel = coilKernel({ thickness_m, height_m: 0.9, channels });
  const model = Float64Array.from({ length: 20 }, (_, i) => Math.log(0.02 + 0.002 * i));
  const out = kernel.output();
  const values = { inphase_ppm: out.inphase_ppm, quadrature_ppm: out.quadrature_ppm };
  return [
    timed("coilResponse, 25 layers, at 0.9 m", () =>
      coilResponse(earth, { ...coils, height_m: 0.9 }),
    ),
    timed("coilResponse, 25 layers, on the ground", () =>
      coilResponse(earth, { ...coils, height_m: 0 }),
    ),
    timed("coil kernel, 20 layers, 10 channels", () => kernel.evaluate(model, values)),
    timed("coil kernel, the same with derivatives", () => kernel.evaluate(model, out)),
  ];
}
